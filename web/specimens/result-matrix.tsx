import type { MatrixCell, MatrixShot, MatrixView } from "../../src/contract/programme.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { routeTo } from "../routing.ts";
import { ResultBadge } from "../words/result-badge.tsx";

const stateWords = { "as-found": "As found", exercised: "Exercised" } as const;
const loadingHeads = {
  "pole-1": "Pole 1",
  "pole-2": "Pole 2",
  "pole-3": "Pole 3",
  all: "All poles",
} as const;

/** Results of one specimen: multiples down, loadings across; as found and exercised stand apart and never mix. */
export function ResultMatrix({ view }: { view: MatrixView }) {
  if (view.parts.length === 0) return <p class="empty">No test has been made on it yet.</p>;
  return (
    <>
      {view.parts.map(({ state, cells }) => (
        <section key={state} class="matrix-part" aria-labelledby={`matrix-${state}`}>
          <h3 id={`matrix-${state}`}>{stateWords[state]}</h3>
          <div class="table-frame">
            <table class="matrix">
              <thead>
                <tr>
                  <th scope="col">Current</th>
                  {view.loadings.map((loading) => (
                    <th key={loading} scope="col">
                      {loadingHeads[loading]}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {view.multiples.map((multiple, row) => (
                  <tr key={multiple}>
                    <th scope="row">{formatMultiple(multiple)}</th>
                    {view.loadings.map((loading, column) => (
                      <td key={loading}>
                        <Cell cell={cells[row]?.[column] ?? null} />
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </section>
      ))}
      <p class="hint">
        The newest test in each place. A time with ± has its expanded uncertainty; a time with &gt; is how
        long the current flowed without a trip. Margin: limit less time.
      </p>
    </>
  );
}

function Cell({ cell }: { cell: MatrixCell | null }) {
  if (cell === null) return <span class="hint">not tested</span>;
  return (
    <>
      <Shot shot={cell} />
      {cell.earlier.length > 0 && (
        <details class="earlier">
          <summary>{cell.earlier.length} earlier</summary>
          {cell.earlier.map((shot) => (
            <Shot key={shot.shot} shot={shot} />
          ))}
        </details>
      )}
    </>
  );
}

function Shot({ shot }: { shot: MatrixShot }) {
  return (
    <a class="matrix-cell" href={routeTo("record", shot.shot)}>
      {shot.result === null ? "under way" : <ResultBadge result={shot.result} />}
      <strong>{shot.timeWords}</strong>
      <span class="cell-more">
        {shot.limitSeconds === null ? "no limit" : `limit ${formatSeconds(shot.limitSeconds)}`}
        {shot.marginSeconds === null ? "" : `, margin ${marginWords(shot.marginSeconds)}`}
        {shot.seconds !== null && shot.k !== null ? `, k = ${shot.k.toFixed(2)}` : ""}
      </span>
    </a>
  );
}

/** A margin with its sign: `+96 s`, `-3.2 s (late)`. */
function marginWords(seconds: number): string {
  return seconds < 0 ? `-${formatSeconds(-seconds)} (late)` : `+${formatSeconds(seconds)}`;
}
