import type { StudyView } from "../../src/contract/studies.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { rangeWords, rateWords } from "../words/rate-words.ts";

/** Every stratum of every recorded study, with its own rate. A criterion that differs from the first one's is marked. */
export function StudyTable({ studies }: { studies: readonly StudyView[] }) {
  const first = studies[0]?.counts.criterion;
  return (
    <div class="table-frame">
      <table>
        <thead>
          <tr>
            <th scope="col">Study</th>
            <th scope="col">Stratum</th>
            <th scope="col">Criterion</th>
            <th scope="col">Failed</th>
            <th scope="col" class="number">
              Rate
            </th>
            <th scope="col">Exact, 95 %</th>
            <th scope="col">How chosen</th>
            <th scope="col">Risk of bias</th>
          </tr>
        </thead>
        <tbody>
          {studies.map(({ sequence, counts, estimate, exact }) => (
            <tr key={sequence ?? `${counts.study} ${counts.stratum}`}>
              <th scope="row">
                {counts.study}, {counts.year}
                <span class="cell-more">{counts.citation}</span>
              </th>
              <td>{counts.stratum}</td>
              <td>
                {counts.criterion !== first && <DifferentMark />}
                {counts.criterion}
                {counts.multiple !== null && (
                  <span class="cell-more">at {formatMultiple(counts.multiple)}</span>
                )}
              </td>
              <td class="tight">
                <strong>{counts.failed}</strong> of {counts.tested}
              </td>
              <td class="number">{rateWords(estimate)}</td>
              <td>{rangeWords(exact)}</td>
              <td>{counts.selection}</td>
              <td>
                {Object.entries(counts.riskOfBias).map(([question, answer]) => (
                  <span key={question} class="cell-more">
                    {question.replace(/^rob_/, "").replaceAll("_", " ")}: {answer}
                  </span>
                ))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Stands beside a study whose criterion is not that of the first. */
export function DifferentMark() {
  return <span class="different">other criterion</span>;
}
