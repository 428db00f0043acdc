import { useState } from "preact/hooks";
import type { SharesView } from "../../src/contract/plans.ts";
import { CsvField } from "../forms/csv-field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { ProblemFields } from "../frame/problem-fields.tsx";
import { countShares } from "../server/resources.ts";
import { rangeWords, rateWords } from "../words/rate-words.ts";

/** Shares of kinds of equipment among inspected places, by year, from a log that is not stored. */
export function SharesPart() {
  const [csv, setCsv] = useState("");
  const [view, setView] = useState<SharesView | null>(null);
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    await sending.send(async () => setView(await countShares(csv)), "Counted. Nothing was stored.");
  }

  return (
    <section class="panel" aria-labelledby="shares-title">
      <h2 id="shares-title">How common a kind is</h2>
      <p class="hint">
        A log of inspected places, one line each, with the header <code>place,year,kind</code>. A place where
        nothing of interest was found stands in the log as well, else there is no share.
      </p>
      <form noValidate onSubmit={send} class="form" aria-label="Count shares">
        <CsvField
          id="shares-csv"
          label="Log as CSV"
          value={csv}
          example={"place,year,kind\nHouse 1,2024,kind A\nHouse 2,2024,kind B"}
          onChange={setCsv}
        />
        <ProblemFields problem={sending.problem} />
        <FormEnd sending={sending} words="Count" />
      </form>
      {view?.kinds.map((kind) => (
        <section key={kind.kind} aria-label={kind.kind}>
          <h3>{kind.kind}</h3>
          <div class="table-frame">
            <table>
              <thead>
                <tr>
                  <th scope="col">Year</th>
                  <th scope="col">Places with it</th>
                  <th scope="col" class="number">
                    Share
                  </th>
                  <th scope="col">Exact</th>
                </tr>
              </thead>
              <tbody>
                {[
                  ...kind.years.map((one) => ({ ...one, name: String(one.year) })),
                  { ...kind.all, name: "all years" },
                ].map((one) => (
                  <tr key={one.name}>
                    <th scope="row">{one.name}</th>
                    <td>
                      {one.withKind} of {one.places}
                    </td>
                    <td class="number">{rateWords(one.share)}</td>
                    <td>{rangeWords(one.exact)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <p>{kind.trend === null ? "A trend over the years is not estimable." : kind.trend.words}</p>
        </section>
      ))}
      {view?.notes.map((note) => (
        <p key={note} class="hint">
          {note}
        </p>
      ))}
    </section>
  );
}
