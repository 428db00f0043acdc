import type { RawStretch } from "./_raw-window.ts";
import { flowFraction } from "./reading-context.ts";

/** An interval on the rig's clock and the best point in it, in microseconds. */
export interface RawEdge {
  lowerUs: number;
  upperUs: number;
  pointUs: number;
}

/**
 * Phase over which a current of at least half the target stays below a tenth of the target's peak beside its zero, at the
 * least favourable offset: a fully displaced current is A (1 - cos phi), and 0.2 A is reached at acos(0.8).
 */
const hiddenRadians = Math.acos(1 - 2 * flowFraction);

/** The onset as a raw window shows it: between the last value without flow and the first with it; null where not shown. */
export function rawOnset(stretch: RawStretch, targetMilliamps: number, lineHz: number): RawEdge | null {
  const first = stretch.milliamps.findIndex(flowing(targetMilliamps));
  if (first <= 0) return null;
  const lowerUs = timeOf(stretch, first - 1) - hiddenUs(lineHz);
  const upperUs = timeOf(stretch, first);
  const zeroUs = upperUs - toZeroUs(stretch, first, first + 1, targetMilliamps);
  return { lowerUs, upperUs, pointUs: zeroUs >= lowerUs ? zeroUs : upperUs - stretch.stepUs / 2 };
}

/**
 * The opening as a raw window shows it: after the last value with flow. Null where less than half a cycle follows, since an
 * alternating current passes through zero by itself.
 */
export function rawOpening(stretch: RawStretch, targetMilliamps: number, lineHz: number): RawEdge | null {
  const last = stretch.milliamps.findLastIndex(flowing(targetMilliamps));
  if (last === -1) return null;
  const restUs = (stretch.milliamps.length - 1 - last) * stretch.stepUs;
  if (restUs < 5e5 / lineHz) return null;
  const lowerUs = timeOf(stretch, last);
  const upperUs = lowerUs + stretch.stepUs + hiddenUs(lineHz);
  const zeroUs = lowerUs + toZeroUs(stretch, last, last - 1, targetMilliamps);
  return { lowerUs, upperUs, pointUs: zeroUs <= upperUs ? zeroUs : lowerUs + stretch.stepUs / 2 };
}

/**
 * Time from a value to zero along the straight line from its neighbour. Infinity where that line does not explain why the
 * value on the other side is below the threshold: the current jumped.
 */
function toZeroUs(stretch: RawStretch, index: number, neighbour: number, targetMilliamps: number): number {
  const here = Math.abs(stretch.milliamps[index] ?? 0);
  const slope = Math.abs(stretch.milliamps[neighbour] ?? 0) - here;
  return slope > 0 && !flowing(targetMilliamps)(here - slope)
    ? (stretch.stepUs * here) / slope
    : Number.POSITIVE_INFINITY;
}

const flowing = (targetMilliamps: number) => {
  const threshold = Math.SQRT2 * targetMilliamps * flowFraction;
  return (value: number) => Math.abs(value) >= threshold;
};
const timeOf = (stretch: RawStretch, index: number) => stretch.firstUs + index * stretch.stepUs;
const hiddenUs = (lineHz: number) => (hiddenRadians / (2 * Math.PI * lineHz)) * 1e6;
