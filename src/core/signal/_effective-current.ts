import { type CurrentFigures, currentFigures } from "./_current-figures.ts";
import type { Flow } from "./_flow.ts";
import { type RawStretch, rawStretches } from "./_raw-window.ts";
import type { RefinedFlow } from "./_refine.ts";
import type { Timeline } from "./_timeline.ts";
import { windowIntegral } from "./_window-integral.ts";
import type { ShotSignal } from "./shot-signal.ts";

/**
 * The current of a shot: over the windows that lie wholly inside the on-time; where there is none, over a raw window that
 * covers the on-time; else the largest sample, which a partial window reads too low.
 */
export function effectiveCurrent(
  signal: ShotSignal,
  timeline: Timeline,
  flow: Flow,
  refined: RefinedFlow,
  targetAmps: number,
  tolerance: number,
): CurrentFigures {
  if (flow.last - flow.first >= 2) {
    return currentFigures(timeline, flow.first + 1, flow.last - 1, targetAmps, tolerance);
  }
  const amps = rawEffectiveAmps(signal, timeline.originUs, refined);
  return amps === null
    ? alone(largest(timeline, flow) / 1000, targetAmps, tolerance, true)
    : alone(amps, targetAmps, tolerance, false);
}

function alone(amps: number, targetAmps: number, tolerance: number, lowerBound: boolean): CurrentFigures {
  const outside = Math.abs(amps / targetAmps - 1) > tolerance;
  return {
    effectiveAmps: amps,
    lowerBound,
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

function rawEffectiveAmps(signal: ShotSignal, originUs: number, refined: RefinedFlow): number | null {
  const { onset, end } = refined;
  if (onset === null || !(end.pointUs > onset.pointUs)) return null;
  const place = (stretch: RawStretch, timeUs: number) =>
    (timeUs + originUs - stretch.firstUs) / stretch.stepUs;
  const covering = [...rawStretches(signal.raw, "onset"), ...rawStretches(signal.raw, "opening")].find(
    (one) => place(one, onset.lowerUs) >= 0 && place(one, end.upperUs) <= one.milliamps.length - 1,
  );
  if (covering === undefined) return null;
  const from = place(covering, onset.pointUs);
  const to = place(covering, end.pointUs);
  const energy = windowIntegral(Float64Array.from(covering.milliamps, (value) => value * value))(from, to);
  return Math.sqrt(energy / (to - from)) / 1000;
}
