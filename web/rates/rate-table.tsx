import type { RateRow, RatesView } from "../../src/contract/rates.ts";
import { figureWords, rangeWords, rateWords } from "../words/rate-words.ts";

/** One row a stratum, and all together: k of n, estimate, bounds, and what was not decided. */
export function RateTable({ view }: { view: RatesView }) {
  const clustered = view.question.clusters !== "none";
  const divided = view.question.by.length > 0;
  const level = `${Number((view.question.confidence * 100).toPrecision(4))} %`;
  return (
    <div class="table-frame">
      <table class="rates">
        <thead>
          <tr>
            <th scope="col">Stratum</th>
            <th scope="col">Failed</th>
            <th scope="col" class="number">
              Rate
            </th>
            <th scope="col">Exact, {level}</th>
            <th scope="col">Wilson, {level}</th>
            {clustered && <th scope="col">Allowing for clusters</th>}
            {clustered && (
              <th scope="col" class="number">
                Clusters
              </th>
            )}
            {clustered && (
              <th scope="col" class="number">
                Design effect
              </th>
            )}
            <th scope="col" class="number">
              Undeter&shy;mined
            </th>
            <th scope="col" class="number">
              Excluded
            </th>
            <th scope="col">If none or all of them had failed</th>
          </tr>
        </thead>
        <tbody>
          {view.rows.map((row) => (
            <Row key={row.label} row={row} clustered={clustered} />
          ))}
          {divided && <Row row={{ ...view.total, label: "all together" }} clustered={clustered} />}
        </tbody>
      </table>
    </div>
  );
}

function Row({ row, clustered }: { row: RateRow; clustered: boolean }) {
  const { intervals } = row;
  return (
    <tr>
      <th scope="row">{row.label}</th>
      <td class="tight">
        <strong>{row.k}</strong> of {row.n}
      </td>
      <td class="number">
        <strong>{rateWords(row.estimate)}</strong>
      </td>
      <td>{rangeWords(intervals.clopperPearson)}</td>
      <td>{rangeWords(intervals.wilson)}</td>
      {clustered && <td>{rangeWords(intervals.clusterRobust)}</td>}
      {clustered && <td class="number">{row.clusters ?? "none"}</td>}
      {clustered && <td class="number">{figureWords(row.designEffect)}</td>}
      <td class="number">{row.undetermined}</td>
      <td class="number">{row.excluded}</td>
      <td>
        {row.lowest === null || row.highest === null
          ? "not estimable"
          : `${rateWords(row.lowest)} or ${rateWords(row.highest)}`}
      </td>
    </tr>
  );
}
