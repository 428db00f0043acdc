import { useEffect, useState } from "preact/hooks";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";

/** Moments in milliseconds on the page's own clock. */
const stepMs = 1000;

/**
 * Seconds that are still to wait, counted down on the page's own clock from what the server said, so that a wrong clock of
 * this computer does no harm. `said` changes with every answer of the server.
 */
export function useSecondsLeft(waitSeconds: number, said: string): number {
  const [left, setLeft] = useState(waitSeconds);
  // Each answer of the server begins the count anew
  useEffect(() => {
    const from = performance.now();
    setLeft(waitSeconds);
    if (waitSeconds <= 0) return;
    const timer = setInterval(
      () => setLeft(Math.max(0, waitSeconds - (performance.now() - from) / 1000)),
      stepMs,
    );
    return () => clearInterval(timer);
  }, [waitSeconds, said]);
  return left;
}

/** How long a specimen still cools, or that it may be tested now. Not a live region: it would speak every second. */
export function CoolingTimer({ waitSeconds, said }: { waitSeconds: number; said: string }) {
  const left = useSecondsLeft(waitSeconds, said);
  return left <= 0 ? (
    <span class="next-timer">
      <TimerGlyph done />
      now
    </span>
  ) : (
    <span class="next-timer">
      <TimerGlyph done={false} />
      {formatSeconds(Math.ceil(left))}
    </span>
  );
}

function TimerGlyph({ done }: { done: boolean }) {
  return (
    <svg class="glyph" viewBox="0 0 20 20" aria-hidden="true" focusable="false">
      {done ? (
        <path d="M3 10.500 8 15.500 17 5" />
      ) : (
        <path d="M5 2h10M5 18h10M6 2c0 9 8 7 8 16M14 2c0 9-8 7-8 16" />
      )}
    </svg>
  );
}
