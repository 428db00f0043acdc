import type { NextView } from "../../src/contract/programme.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import type { Resource } from "../server/use-resource.ts";
import { CoolingTimer } from "./cooling-timer.tsx";

/** The next step of every locked programme: those that may go now first, then by how long they still cool. */
export function NextList({ next, chosen }: { next: Resource<NextView>; chosen: string | null }) {
  const view = next.value;
  return (
    <>
      <ProblemNote problem={next.problem} />
      <ul class="rows" onKeyDown={moveWithArrows("a")}>
        {view?.specimens.map((one) => (
          <li key={one.specimen}>
            <a
              class="next-row"
              href={routeTo("bench", one.specimen)}
              aria-current={one.specimen === chosen ? "true" : undefined}
            >
              <span class="row-top">
                <strong>{one.label}</strong>
                {one.suspicions.some(({ kind }) => kind === "jam suspected") && (
                  <span class="abnormal">
                    <WarningGlyph /> jam suspected
                  </span>
                )}
                {(one.allowed || one.waitSeconds > 0) && (
                  <CoolingTimer waitSeconds={one.allowed ? 0 : one.waitSeconds} said={view.at} />
                )}
              </span>
              <span>{one.step.words}</span>
              <span class="row-more">
                <span>{one.words}</span>
                <span class="next-done">
                  {one.done} of {one.planned}
                </span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {next.loading && <p class="empty">Reading the programmes.</p>}
      {view !== null && view.specimens.length === 0 && (
        <p class="empty">
          No locked programme is under way. Lock one on a specimen's own page, and its steps are offered here
          while others cool.
        </p>
      )}
    </>
  );
}
