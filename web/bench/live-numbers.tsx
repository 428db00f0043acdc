import { useEffect, useRef } from "preact/hooks";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { live } from "../live/live.ts";
import { elapsedWords, liveAmpsWords } from "../words/quantities.ts";

/** Elapsed time and present current, written straight into the page once per frame. */
export function LiveNumbers({
  ratedAmps,
  targetAmps,
  stale,
}: {
  ratedAmps: number;
  targetAmps: number;
  /** The connection is lost: what stands here was true when it was last heard. */
  stale: boolean;
}) {
  const elapsed = useRef<HTMLOutputElement>(null);
  const current = useRef<HTMLOutputElement>(null);
  useEffect(() => {
    const draw = () => {
      const flowing = live.flowing();
      const last = live.trace.last();
      if (elapsed.current !== null) elapsed.current.textContent = elapsedWords(flowing?.seconds ?? 0);
      if (current.current !== null)
        current.current.textContent =
          last === null
            ? "no current yet"
            : `${liveAmpsWords(last.amps)} = ${formatMultiple(Number((last.amps / ratedAmps).toFixed(3)))}`;
    };
    draw();
    return live.frames.onDraw(draw);
  }, [ratedAmps]);
  return (
    <dl class="live-numbers">
      <div class="elapsed">
        <dt>Time under current{stale ? ", as last heard" : ""}</dt>
        <dd>
          <output ref={elapsed} aria-live="off" />
        </dd>
      </div>
      <div>
        <dt>{stale ? "Current, as last heard" : "Current now, of the rating"}</dt>
        <dd>
          <output ref={current} aria-live="off" />
        </dd>
      </div>
      <div>
        <dt>Target</dt>
        <dd>{formatAmps(targetAmps)}</dd>
      </div>
    </dl>
  );
}
