import type { Reading } from "./reading.ts";
import type { RigResult } from "./shot-signal.ts";

/** Relative difference of effective currents beyond which rig and samples disagree. */
const currentTolerance = 0.01;
/** Windows by which the rig's on-time may lie outside the interval of the reading. */
const timeTolerance = 2;

/** What the rig's own result is held against. */
export interface Measured {
  outcome: Reading["outcome"];
  lowerSeconds: number;
  upperSeconds: number;
  /** Null where the samples give only a lower bound. */
  effectiveAmps: number | null;
  stepSeconds: number;
}

/**
 * True where the rig's own result differs from the reading: in whether the specimen opened, in on-time by more than two
 * windows beyond the reading's interval, or in effective current by more than 1 %.
 */
export function rigDisagrees(result: RigResult, measured: Measured): boolean {
  if ((result.outcome === "opened") !== (measured.outcome === "tripped")) return true;
  const onTime = result.onTimeUs / 1e6;
  const slack = timeTolerance * measured.stepSeconds;
  if (onTime < measured.lowerSeconds - slack || onTime > measured.upperSeconds + slack) return true;
  const { effectiveAmps } = measured;
  if (effectiveAmps === null) return false;
  return Math.abs(result.rmsMilliamps / 1000 - effectiveAmps) > currentTolerance * effectiveAmps;
}
