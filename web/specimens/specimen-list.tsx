import { useMemo, useState } from "preact/hooks";
import type { SpecimenView } from "../../src/contract/http.ts";
import { markingWords, specimensFound } from "../bench/specimen-chooser.tsx";
import { AmendedMark } from "../custody/amended-mark.tsx";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { DemoMark, ResultBadge } from "../words/result-badge.tsx";
import { operationWords } from "../words/state-words.ts";

type StateFilter = "all" | SpecimenView["state"]["kind"];
const filters: readonly (readonly [StateFilter, string])[] = [
  ["all", "All"],
  ["as-found", "As found"],
  ["exercised", "Exercised"],
];

/** All specimens, with a search by label, job, panel or rating and a filter by state. */
export function SpecimenList() {
  const specimens = useResource<SpecimenView[]>(addresses.specimens);
  const [search, setSearch] = useState("");
  const [state, setState] = useState<StateFilter>("all");
  const all = specimens.value ?? [];
  const matching = useMemo(() => specimensFound(all, search), [all, search]);
  const inState = (one: StateFilter) => matching.filter((each) => one === "all" || each.state.kind === one);
  const found = inState(state);
  return (
    <div class="record">
      <div class="record-head">
        <h1>Specimens</h1>
        <label class="search">
          <span class="for-ears">Search by label, job, panel or rating</span>
          <input
            type="search"
            placeholder="Search label, job, panel or rating"
            value={search}
            onInput={(event) => setSearch(event.currentTarget.value)}
          />
        </label>
        <fieldset class="choices" aria-label="State">
          {filters.map(([one, words]) => (
            <button key={one} type="button" aria-pressed={state === one} onClick={() => setState(one)}>
              {words} ({inState(one).length})
            </button>
          ))}
        </fieldset>
      </div>
      <ProblemNote problem={specimens.problem} />
      <p class="record-count" role="status">
        {specimens.loading ? "Reading the specimens." : `${found.length} of ${all.length} specimens.`}
      </p>
      {found.length > 0 && <SpecimenTable specimens={found} />}
      {specimens.value !== null && found.length === 0 && (
        <p class="empty">
          {all.length === 0
            ? "No specimen has been received yet. Receive one on the bench."
            : "No specimen matches."}
        </p>
      )}
    </div>
  );
}

function SpecimenTable({ specimens }: { specimens: readonly SpecimenView[] }) {
  return (
    <div class="table-frame">
      <table class="shots">
        <thead>
          <tr>
            <th scope="col">Specimen</th>
            <th scope="col">Marked</th>
            <th scope="col">Origin</th>
            <th scope="col">State</th>
            <th scope="col" class="number">
              Tests
            </th>
            <th scope="col">Result</th>
          </tr>
        </thead>
        <tbody onKeyDown={moveWithArrows(".open")}>
          {specimens.map((specimen) => {
            const { id, details } = specimen;
            return (
              <tr key={id} onClick={() => (location.hash = routeTo("specimens", id))}>
                <th scope="row" class="marked-label">
                  <a class="open" href={routeTo("specimens", id)}>
                    {details.label}
                  </a>{" "}
                  {details.demo && <DemoMark />}{" "}
                  <AmendedMark
                    count={specimen.amendments}
                    name={details.label}
                    href={routeTo("custody", "specimen", id, "amendments")}
                  />
                </th>
                <td class="tight">{markingWords(specimen)}</td>
                <td>
                  {details.job ?? "not recorded"}
                  <span class="cell-more">
                    {[details.panel, details.circuit].filter((one) => one !== undefined).join(", ")}
                  </span>
                </td>
                <td>{operationWords(specimen.state)}</td>
                <td class="number">{specimen.shots}</td>
                <td>{specimen.shots === 0 ? "not tested" : <ResultBadge result={specimen.result} />}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
