import { useState } from "preact/hooks";
import type { PlaceView } from "../../src/contract/plans.ts";
import { TextField } from "../forms/field.tsx";
import { CopySentence } from "../frame/copy-sentence.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { addresses, query } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { useSettled } from "../server/use-settled.ts";
import { MeaningWords } from "./meaning-words.tsx";

const fields = [
  ["N", "Breakers, tested included"],
  ["tested", "Of them tested"],
  ["failed", "Of the tested, failed"],
  ["confidence", "Confidence, between 0 and 1"],
] as const;

/** Of so many breakers in a place so many were tested: how many failures may be among those still in service. */
export function PlacePart() {
  const [text, setText] = useState<Record<string, string>>({
    N: "120",
    tested: "30",
    failed: "2",
    confidence: "0.95",
  });
  const place = useResource<PlaceView>(addresses.place(useSettled(query(text))));
  const view = place.value;
  return (
    <section class="panel" aria-labelledby="place-title">
      <h2 id="place-title">What it means for a place</h2>
      <form class="form" aria-label="A place" onSubmit={(event) => event.preventDefault()}>
        <div class="fields fields-many">
          {fields.map(([name, label]) => (
            <TextField
              key={name}
              id={`place-${name}`}
              label={label}
              kind="number"
              value={text[name] ?? ""}
              onChange={(value) => setText({ ...text, [name]: value })}
              problem={problemOfField(place.problem, name)}
            />
          ))}
        </div>
      </form>
      <ProblemNote problem={place.problem} />
      {view !== null && place.problem === null && (
        <>
          <p class="answer-figure" role="status">
            <strong>
              {view.remaining.lower} to {view.remaining.upper}
            </strong>{" "}
            failures among the {view.inService} still in service; at most {view.remaining.oneSidedUpper} by
            the one-sided bound.
          </p>
          <CopySentence sentence={view.sentence} />
          <MeaningWords words={view.words} />
        </>
      )}
    </section>
  );
}
