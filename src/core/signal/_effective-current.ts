import { type CurrentFigures, currentFigures } from "./_current-figures.ts";
import type { Flow } from "./_flow.ts";
import { type RawStretch, rawStretches } from "./_raw-window.ts";
import type { RefinedFlow } from "./_refine.ts";
import type { Timeline } from "./_timeline.ts";
import { windowIntegral } from "./_window-integral.ts";
import type { RawWindow } from "./shot-signal.ts";

/** Below three cycles at 60 Hz a true RMS value depends on the phase at which current began and ended. */
export const briefSeconds = 0.05;

/**
 * The current of a shot: over a raw window that covers the whole on-time, where there is one; else over the windows that lie
 * wholly inside the on-time; else the largest sample, which a partial window reads too low.
 *
 * @param raw raw windows on the timeline's own clock
 */
export function effectiveCurrent(
  timeline: Timeline,
  flow: Flow,
  refined: RefinedFlow,
  raw: readonly RawWindow[],
  targetAmps: number,
  tolerance: number,
): CurrentFigures {
  const brief = flow.lastSeenUs - flow.firstSeenUs < briefSeconds * 1e6;
  const whole =
    flow.last - flow.first < 2
      ? null
      : currentFigures(timeline, flow.first + 1, flow.last - 1, targetAmps, tolerance);
  const covered = rawEffectiveAmps(raw, refined);
  if (covered !== null) {
    const figures = alone(covered, targetAmps, tolerance);
    if (whole === null) return { ...figures, brief };
    const lowestAmps = Math.min(covered, whole.lowestAmps);
    return { ...figures, brief, lowestAmps, highestAmps: Math.max(covered, whole.highestAmps) };
  }
  if (whole !== null) return { ...whole, brief };
  return { ...alone(largest(timeline, flow) / 1000, targetAmps, tolerance), brief, lowerBound: true };
}

function alone(amps: number, targetAmps: number, tolerance: number): CurrentFigures {
  const outside = Math.abs(amps / targetAmps - 1) > tolerance;
  return {
    effectiveAmps: amps,
    lowerBound: false,
    brief: false,
    lowestAmps: amps,
    highestAmps: amps,
    outsideShare: outside ? 1 : 0,
    steadiness: null,
  };
}

function largest(timeline: Timeline, flow: Flow): number {
  let most = 0;
  for (let i = flow.first; i <= flow.last; i += 1) most = Math.max(most, timeline.milliamps[i] ?? 0);
  return most;
}

function rawEffectiveAmps(raw: readonly RawWindow[], { onset, end }: RefinedFlow): number | null {
  if (onset === null || !(end.pointUs > onset.pointUs)) return null;
  const place = (stretch: RawStretch, timeUs: number) => (timeUs - stretch.firstUs) / stretch.stepUs;
  const covering = [...rawStretches(raw, "onset"), ...rawStretches(raw, "opening")].find(
    (one) => place(one, onset.lowerUs) >= 0 && place(one, end.upperUs) <= one.milliamps.length - 1,
  );
  if (covering === undefined) return null;
  const from = place(covering, onset.pointUs);
  const to = place(covering, end.pointUs);
  const energy = windowIntegral(Float64Array.from(covering.milliamps, (value) => value * value))(from, to);
  return Math.sqrt(energy / (to - from)) / 1000;
}
