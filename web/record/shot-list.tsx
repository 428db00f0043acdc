import { useMemo, useState } from "preact/hooks";
import type { ShotLine } from "../../src/contract/http.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { AmendedMark } from "../custody/amended-mark.tsx";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { DemoMark, ResultBadge } from "../words/result-badge.tsx";
import { loadingWords, operationWords } from "../words/state-words.ts";
import { resultWords } from "../words/verdict-words.ts";
import { filterShots, type ResultFilter } from "./filter-shots.ts";

const atOnce = 200;
const filters: readonly ResultFilter[] = ["all", "pass", "fail", "undetermined", "excluded"];

/** All tests, newest first, with a search by specimen and a filter by result. */
export function ShotList() {
  const shots = useResource<ShotLine[]>(addresses.shots);
  const [search, setSearch] = useState("");
  const [result, setResult] = useState<ResultFilter>("all");
  const [shown, setShown] = useState(atOnce);
  const lines = shots.value ?? [];
  const found = useMemo(() => filterShots(lines, search, result), [lines, search, result]);
  const count = (one: ResultFilter) => filterShots(lines, search, one).length;

  return (
    <div class="record">
      <div class="record-head">
        <h1>Record</h1>
        <label class="search">
          <span class="for-ears">Search by specimen, job or number of the test</span>
          <input
            type="search"
            placeholder="Search specimen, job or test"
            value={search}
            onInput={(event) => setSearch(event.currentTarget.value)}
          />
        </label>
        <fieldset class="choices" aria-label="Result">
          {filters.map((one) => (
            <button key={one} type="button" aria-pressed={result === one} onClick={() => setResult(one)}>
              {one === "all" ? "All" : resultWords[one].word} ({count(one)})
            </button>
          ))}
        </fieldset>
      </div>
      <ProblemNote problem={shots.problem} />
      <p class="record-count" role="status">
        {shots.loading
          ? "Reading the record."
          : `${found.length} of ${lines.length} tests, newest first. These counts are no failure rate.`}
      </p>
      {found.length > 0 && <ShotTable lines={found.slice(0, shown)} />}
      {found.length > shown && (
        <button type="button" onClick={() => setShown(shown + atOnce)}>
          Show {Math.min(atOnce, found.length - shown)} more
        </button>
      )}
      {shots.value !== null && found.length === 0 && (
        <p class="empty">{lines.length === 0 ? "No test has been made yet." : "No test matches."}</p>
      )}
    </div>
  );
}

function ShotTable({ lines }: { lines: readonly ShotLine[] }) {
  return (
    <div class="table-frame">
      <table class="shots">
        <thead>
          <tr>
            <th scope="col">Test</th>
            <th scope="col">Result</th>
            <th scope="col">Specimen</th>
            <th scope="col">Test point</th>
            <th scope="col" class="number">
              Time
            </th>
            <th scope="col">Begun</th>
          </tr>
        </thead>
        <tbody onKeyDown={moveWithArrows(".open")}>
          {lines.map((line) => (
            <tr key={line.id} onClick={() => (location.hash = routeTo("record", line.id))}>
              <th scope="row" class="tight">
                <a class="open" href={routeTo("record", line.id)}>
                  {line.id}
                </a>
              </th>
              <td>{line.closedAt === null ? "under way" : <ResultBadge result={line.result} />}</td>
              <td>
                <strong>{line.label}</strong> {line.demo && <DemoMark />}
                <span class="cell-more">
                  {formatAmps(line.ratedAmps)}
                  {line.job === null ? "" : `, ${line.job}`}
                </span>
              </td>
              <td>
                {formatMultiple(line.multiple)}, {loadingWords(line.loading, line.poles)}
                <span class="cell-more">
                  {operationWords(line.state)}{" "}
                  <AmendedMark
                    count={line.amendments}
                    name={`test ${line.id}`}
                    href={routeTo("record", line.id, "amendments")}
                  />
                </span>
              </td>
              <td class="number">
                {timeWords(line)}
                {line.limitSeconds !== null && (
                  <span class="cell-more">limit {formatSeconds(line.limitSeconds)}</span>
                )}
              </td>
              <td class="tight">{momentWords(line.openedAt)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The trip time, or for how long the current flowed without a trip. */
function timeWords(line: ShotLine): string {
  if (line.seconds !== null) return formatSeconds(line.seconds);
  if (line.heldSeconds === null) return "";
  return `no trip in ${formatSeconds(line.heldSeconds)}`;
}
