import { useState } from "preact/hooks";
import type { PoolComparison, PoolModel } from "../../src/contract/studies.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { figureWords, rangeWords, rateWords } from "../words/rate-words.ts";
import { modelNames } from "./model-names.ts";

/** The pooled rate by every model side by side, so that nobody need choose one for its answer. Worked out when opened. */
export function CompareTable({ asked, chosen }: { asked: string; chosen: PoolModel }) {
  const [open, setOpen] = useState(false);
  const compared = useResource<PoolComparison>(open ? addresses.poolCompare(asked) : null);
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Every model side by side</summary>
      <ProblemNote problem={compared.problem} />
      {compared.loading && <p class="empty">Pooling by every model.</p>}
      {compared.value !== null && (
        <div class="table-frame">
          <table>
            <thead>
              <tr>
                <th scope="col">Model</th>
                <th scope="col" class="number">
                  Pooled rate
                </th>
                <th scope="col">Interval</th>
                <th scope="col" class="number">
                  tau²
                </th>
              </tr>
            </thead>
            <tbody>
              {compared.value.map(({ model, pooled, tau2 }) => (
                <tr key={model}>
                  <th scope="row">
                    {modelNames[model]}
                    {model === chosen ? ", chosen" : ""}
                  </th>
                  <td class="number">{rateWords(pooled?.estimate ?? null)}</td>
                  <td>{rangeWords(pooled)}</td>
                  <td class="number">{tau2 === null ? "none" : figureWords(tau2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </details>
  );
}
