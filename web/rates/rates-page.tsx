import { useState } from "preact/hooks";
import type { LabView } from "../../src/contract/http.ts";
import type { RatesView } from "../../src/contract/rates.ts";
import { Figure } from "../figures/figure.tsx";
import { CautionLine } from "../frame/caution-line.tsx";
import { CopySentence } from "../frame/copy-sentence.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { useSettled } from "../server/use-settled.ts";
import { CaseList } from "./case-list.tsx";
import { type Question, QuestionForm, questionText, usualQuestion } from "./question-form.tsx";
import { RateTable } from "./rate-table.tsx";
import { TripTimes } from "./trip-times.tsx";

const pictures = [
  ["rates", "Rates"],
  ["trip-times", "Times to trip"],
  ["margins", "Margins to the limit"],
] as const;

/** Failure rates of the lab's own specimens: what is counted, the table, the picture, the sentence, and who is in and out. */
export function RatesPage() {
  const [question, setQuestion] = useState<Question>(usualQuestion);
  const [picture, setPicture] = useState<(typeof pictures)[number][0]>("rates");
  const asked = useSettled(questionText(question));
  const lab = useResource<LabView>(addresses.lab);
  const rates = useResource<RatesView>(addresses.rates(asked));
  const view = rates.value;
  return (
    <div class="record">
      <h1>Failure rates</h1>
      <CautionLine words={view?.caution ?? lab.value?.rateCaution ?? ""} />
      <QuestionForm question={question} onChange={setQuestion} problem={rates.problem} />
      <ProblemNote problem={rates.problem} />
      {rates.loading && <p class="empty">Counting.</p>}
      {view !== null && (
        <>
          <section class="panel" aria-labelledby="rates-title">
            <h2 id="rates-title">Rates</h2>
            <p class="criterion">{view.criterion}</p>
            <RateTable view={view} />
            {view.compared.length > 0 && (
              <ul class="reasons">
                {view.compared.map(({ method, words }) => (
                  <li key={method}>
                    <strong>{method}</strong>: {words}
                  </li>
                ))}
              </ul>
            )}
            <p>
              {view.specimens.received} specimens received
              {view.specimens.invented > 0
                ? `, ${view.specimens.invented} of them invented (${view.specimens.inventedCounted ? "counted, as this is a demo lab" : "not counted"})`
                : ""}
              ; {view.specimens.counted} counted, {view.specimens.notShotSo} not tested in this way.
            </p>
            {view.notes.map((note) => (
              <p key={note} class="hint">
                {note}
              </p>
            ))}
            <CopySentence sentence={view.sentence} />
            <p class="downloads">
              <a class="button" href={addresses.ratesCsv(asked)} download="failure-rates.csv">
                Table as CSV
              </a>
              <a class="button" href={addresses.rates(asked)} download="failure-rates.json">
                Everything as JSON
              </a>
              <a class="button" href={addresses.ratesFigure("rates", asked)} download="failure-rates.svg">
                Picture as SVG
              </a>
              <a class="button" href={addresses.ratesExhibit(asked)} download="failure-rates.pdf">
                Exhibit as PDF
              </a>
            </p>
          </section>
          <section class="panel" aria-labelledby="picture-title">
            <div class="panel-head">
              <h2 id="picture-title">Picture</h2>
              <fieldset class="choices" aria-label="Picture">
                {pictures.map(([one, words]) => (
                  <button
                    key={one}
                    type="button"
                    aria-pressed={picture === one}
                    onClick={() => setPicture(one)}
                  >
                    {words}
                  </button>
                ))}
              </fieldset>
            </div>
            <Figure
              address={addresses.ratesFigure(picture, asked)}
              name={picture}
              words={pictureWords(picture, view)}
            />
            {picture === "trip-times" && <TripTimes asked={asked} />}
          </section>
          <CaseList asked={asked} />
        </>
      )}
    </div>
  );
}

function pictureWords(picture: "rates" | "trip-times" | "margins", view: RatesView): string {
  if (picture === "rates")
    return `Failure rates by stratum with exact bounds. ${view.rows.map((row) => `${row.label}: ${row.k} of ${row.n}`).join("; ")}. The numbers stand in the table.`;
  return picture === "trip-times"
    ? "Share of specimens not yet tripped against time, in steps, with bounds. The numbers stand below it."
    : "Time over limit of each specimen, by stratum; above 1 is late.";
}
