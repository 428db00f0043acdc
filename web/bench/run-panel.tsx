import { useEffect, useState } from "preact/hooks";
import type { CurrentShot } from "../../src/contract/http.ts";
import { requirementWords } from "../../src/core/limits/requirement-words.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { DemoMark } from "../words/result-badge.tsx";
import { courseWords, currentMayFlow, loadingWords, shotStates } from "../words/state-words.ts";
import { LiveNumbers } from "./live-numbers.tsx";
import { TimeBar } from "./time-bar.tsx";

/** How long samples may stay away before the page says so. */
const silenceMs = 3000;

/** A test under way: how long, how much, how far from the limit, and what the bench is doing. */
export function RunPanel({ shot }: { shot: CurrentShot }) {
  const connection = useStore(live.connection);
  const here = shotStates.findIndex((one) => one.state === shot.state);
  const { details } = shot.specimen;
  const unknown = connection === "lost";
  return (
    <div class="run">
      <h2>
        {details.label} {details.demo && <DemoMark />}
      </h2>
      <p class="run-point">
        {formatMultiple(shot.point.row.multiple)} on {loadingWords(shot.point.loading, details.poles)}: must{" "}
        {requirementWords(shot.point.row.requirement)}
      </p>
      <LiveNumbers ratedAmps={details.ratedAmps} targetAmps={shot.point.targetAmps} stale={unknown} />
      <TimeBar requirement={shot.point.row.requirement} endAtSeconds={shot.endAtSeconds} />
      <p class={`run-state${currentMayFlow(shot.state) || unknown ? " run-state-live" : ""}`}>
        {unknown ? "State not known: no connection to the bench program" : courseWords(shot)}
      </p>
      <ol class="states" aria-label="Course of the test">
        {shotStates.map(({ state, short }, i) => (
          <li key={state} class={i < here ? "past" : ""} aria-current={i === here ? "step" : undefined}>
            {short}
          </li>
        ))}
      </ol>
      {shot.state === "watch" && <SilenceNote />}
    </div>
  );
}

/** Says so when the samples stop coming although the connection stands. */
function SilenceNote() {
  const [silent, setSilent] = useState(false);
  useEffect(() => {
    const timer = setInterval(() => setSilent(live.silentForMs() > silenceMs), 500);
    return () => clearInterval(timer);
  }, []);
  if (!silent) return null;
  return (
    <p class="problem" role="alert">
      No sample has come for {silenceMs / 1000} seconds. Current may still be flowing.
    </p>
  );
}
