import { useEffect, useRef } from "preact/hooks";
import type { Requirement } from "../../src/core/limits/limit-set.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { live } from "../live/live.ts";
import { timeStretches } from "./time-stretches.ts";

/** The running time against the limit: a bar in stretches, each labelled with what a trip in it would mean. */
export function TimeBar({ requirement, endAtSeconds }: { requirement: Requirement; endAtSeconds: number }) {
  const fill = useRef<HTMLDivElement>(null);
  const stretches = timeStretches(requirement, endAtSeconds);
  useEffect(
    () =>
      live.frames.onDraw(() => {
        const seconds = live.flowing()?.seconds ?? 0;
        if (fill.current !== null)
          fill.current.style.width = `${Math.min(100, (100 * seconds) / endAtSeconds)}%`;
      }),
    [endAtSeconds],
  );
  const percent = (seconds: number) => `${(100 * seconds) / endAtSeconds}%`;
  return (
    <div class="time-bar">
      <div class="time-bar-track">
        {stretches.map(({ from, to, meaning }) => (
          <div
            key={from}
            class={`stretch stretch-${meaning.replaceAll(" ", "-")}`}
            style={{ left: percent(from), width: percent(to - from) }}
          />
        ))}
        <div class="time-bar-fill" ref={fill} />
        {stretches.slice(1).map(({ from }) => (
          <div key={from} class="time-bar-limit" style={{ left: percent(from) }} />
        ))}
      </div>
      <div class="time-bar-words">
        {stretches.map(({ from, to, meaning }, i) => (
          <span key={from} class={i === 0 ? "" : "after"}>
            {meaning === "test may end" ? "held long enough" : `trip is ${meaning}`}
            {i === 0 ? ` up to ${formatSeconds(to)}` : ` from ${formatSeconds(from)}`}
          </span>
        ))}
      </div>
    </div>
  );
}
