import type { PoolView } from "../../src/contract/studies.ts";
import { rangeWords, rateWords } from "../words/rate-words.ts";
import { DifferentMark } from "./study-table.tsx";

/** What went into the pool: each study with its weight, and the pooled rate without it. */
export function PoolRows({ view }: { view: PoolView }) {
  return (
    <div class="table-frame">
      <table>
        <thead>
          <tr>
            <th scope="col">Study</th>
            <th scope="col">Failed</th>
            <th scope="col" class="number">
              Rate
            </th>
            <th scope="col">Exact</th>
            <th scope="col" class="number">
              Weight
            </th>
            <th scope="col" class="number">
              Pooled without it
            </th>
          </tr>
        </thead>
        <tbody>
          {view.rows.map((row) => (
            <tr key={row.label}>
              <th scope="row">
                {row.label} {row.marked && <DifferentMark />}
                {row.marked && <span class="cell-more">{row.criterion}</span>}
              </th>
              <td class="tight">
                <strong>{row.k}</strong> of {row.n}
              </td>
              <td class="number">{rateWords(row.estimate)}</td>
              <td>{rangeWords(row)}</td>
              <td class="number">{row.weight === null ? "none" : rateWords(row.weight)}</td>
              <td class="number">{rateWords(row.without)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
