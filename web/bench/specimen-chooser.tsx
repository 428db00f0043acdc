import { useMemo, useState } from "preact/hooks";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { NextView } from "../../src/contract/programme.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import type { Resource } from "../server/use-resource.ts";
import { DemoMark, ResultBadge } from "../words/result-badge.tsx";
import { NextList } from "./next-list.tsx";

/** Rating, poles and voltage in one line. */
export function markingWords({ details }: Pick<SpecimenView, "details">): string {
  const poles = details.poles === 1 ? "1 pole" : `${details.poles} poles`;
  return `${formatAmps(details.ratedAmps)}, ${poles}, ${details.volts} V`;
}

const searchText = (specimen: SpecimenView) =>
  [specimen.details.label, specimen.details.job, specimen.details.panel, markingWords(specimen)]
    .join(" ")
    .toLowerCase();

/** The specimens that hold every word of the search. */
export function specimensFound(specimens: readonly SpecimenView[], search: string): SpecimenView[] {
  const words = search.toLowerCase().split(/\s+/);
  return specimens.filter((specimen) => words.every((word) => searchText(specimen).includes(word)));
}

/** All specimens, or those with a next step of a locked programme; the chosen one is marked. */
export function SpecimenChooser({
  specimens,
  chosen,
  next,
  onReceive,
}: {
  specimens: Resource<SpecimenView[]>;
  next: Resource<NextView>;
  chosen: string | null;
  onReceive: () => void;
}) {
  const [list, setList] = useState<"all" | "next">("all");
  return (
    <section class="panel chooser" aria-labelledby="chooser-title">
      <div class="panel-head">
        <h2 id="chooser-title">Specimens</h2>
        <button type="button" class="quiet" onClick={onReceive}>
          Receive a specimen
        </button>
      </div>
      <fieldset class="choices chooser-lists" aria-label="List">
        <button type="button" aria-pressed={list === "all"} onClick={() => setList("all")}>
          All
        </button>
        <button type="button" aria-pressed={list === "next"} onClick={() => setList("next")}>
          Next steps ({next.value?.specimens.length ?? 0})
        </button>
      </fieldset>
      {list === "next" ? (
        <NextList next={next} chosen={chosen} />
      ) : (
        <AllList specimens={specimens} chosen={chosen} />
      )}
    </section>
  );
}

/** List of specimens with a search. */
function AllList({ specimens, chosen }: { specimens: Resource<SpecimenView[]>; chosen: string | null }) {
  const [search, setSearch] = useState("");
  const found = useMemo(() => specimensFound(specimens.value ?? [], search), [specimens.value, search]);
  return (
    <>
      <label class="search">
        <span class="for-ears">Search specimens by label, job or rating</span>
        <input
          type="search"
          placeholder="Search label, job or rating"
          value={search}
          onInput={(event) => setSearch(event.currentTarget.value)}
        />
      </label>
      <ProblemNote problem={specimens.problem} />
      <ul class="rows" onKeyDown={moveWithArrows("a")}>
        {found.map((specimen) => (
          <li key={specimen.id}>
            <a
              href={routeTo("bench", specimen.id)}
              aria-current={specimen.id === chosen ? "true" : undefined}
            >
              <span class="row-top">
                <strong>{specimen.details.label}</strong>
                {specimen.details.demo && <DemoMark />}
                {specimen.shots > 0 && <ResultBadge result={specimen.result} />}
              </span>
              <span class="row-more">
                <span>{markingWords(specimen)}</span>
                <span>{specimen.state.kind === "as-found" ? "as found" : "exercised"}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {specimens.loading && <p class="empty">Reading the specimens.</p>}
      {specimens.value !== null && found.length === 0 && (
        <p class="empty">
          {specimens.value.length === 0
            ? "No specimen has been received yet."
            : "No specimen matches the search."}
        </p>
      )}
    </>
  );
}
