import type { TimeUncertainty } from "../../src/core/signal/reading.ts";

const figure = (value: number) => Number(value.toPrecision(3)).toString();

const shareWords = (share: number) =>
  share > 0 && share < 0.0001 ? "below 0.01 %" : `${figure(share * 100)} %`;

/** The uncertainty budget of a time, one contribution a row. Nothing where none was worked out. */
export function BudgetTable({ uncertainty }: { uncertainty: TimeUncertainty | null }) {
  if (uncertainty === null) return null;
  return (
    <section class="panel" aria-labelledby="budget-title">
      <h2 id="budget-title">Uncertainty of the time</h2>
      <div class="table-frame">
        <table>
          <thead>
            <tr>
              <th scope="col">Contribution</th>
              <th scope="col" class="number">
                Value
              </th>
              <th scope="col">Distribution</th>
              <th scope="col" class="number">
                Divisor
              </th>
              <th scope="col" class="number">
                Seconds per unit
              </th>
              <th scope="col" class="number">
                Standard uncertainty
              </th>
              <th scope="col" class="number">
                Share of variance
              </th>
            </tr>
          </thead>
          <tbody>
            {uncertainty.budget.map((line) => (
              <tr key={line.contribution}>
                <th scope="row">{line.contribution}</th>
                <td class="number">
                  {figure(line.value)} {line.unit}
                </td>
                <td>{line.distribution}</td>
                <td class="number">{figure(line.divisor)}</td>
                <td class="number">{figure(line.sensitivity)}</td>
                <td class="number">{figure(line.seconds)} s</td>
                <td class="number">{shareWords(line.share)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p>
        Together: standard {figure(uncertainty.standard)} s; expanded {figure(uncertainty.expanded)} s with k
        = {figure(uncertainty.k)}. Effect of the current on the time: {uncertainty.model}
      </p>
    </section>
  );
}
