import type { RawStretch } from "./_raw-window.ts";
import { flowFraction } from "./reading-context.ts";

/** An interval on the rig's clock, in microseconds. */
export interface RawEdge {
  lowerUs: number;
  upperUs: number;
}

/**
 * Phase over which a current of at least half the target stays below a tenth of the target's peak beside its zero, at the
 * least favourable offset: a fully displaced current is A (1 - cos phi), and 0.2 A is reached at acos(0.8).
 */
const hiddenRadians = Math.acos(1 - 2 * flowFraction);

/** The onset as a raw window shows it: between the last value without flow and the first with it; null where not shown. */
export function rawOnset(stretch: RawStretch, targetMilliamps: number, lineHz: number): RawEdge | null {
  const flows = flowing(targetMilliamps);
  const first = stretch.milliamps.findIndex(flows);
  if (first <= 0) return null;
  return { lowerUs: at(stretch, first - 1) - hiddenUs(lineHz), upperUs: at(stretch, first) };
}

/**
 * The opening as a raw window shows it: after the last value with flow. Null where less than half a cycle follows, since an
 * alternating current passes through zero by itself.
 */
export function rawOpening(stretch: RawStretch, targetMilliamps: number, lineHz: number): RawEdge | null {
  const flows = flowing(targetMilliamps);
  const last = stretch.milliamps.findLastIndex(flows);
  if (last === -1) return null;
  const restUs = (stretch.milliamps.length - 1 - last) * stretch.stepUs;
  if (restUs < 5e5 / lineHz) return null;
  return { lowerUs: at(stretch, last), upperUs: at(stretch, last + 1) + hiddenUs(lineHz) };
}

const flowing = (targetMilliamps: number) => {
  const threshold = Math.SQRT2 * targetMilliamps * flowFraction;
  return (value: number) => Math.abs(value) >= threshold;
};
const at = (stretch: RawStretch, index: number) => stretch.firstUs + index * stretch.stepUs;
const hiddenUs = (lineHz: number) => (hiddenRadians / (2 * Math.PI * lineHz)) * 1e6;
