import type { ReadingFlag } from "./reading.ts";
import type { SensitivityModel } from "./sensitivity.ts";

/** All that a reading needs beside the samples. The same signal and context give the same bytes on every machine. */
export interface ReadingContext {
  ratedAmps: number;
  targetAmps: number;
  /** What the uncertainty rests on. */
  basis: {
    /** Relative expanded uncertainty of the current, in percent. */
    currentPercent: number;
    /** Coverage factor of `currentPercent`; 1 where that is a standard uncertainty. */
    currentK: number;
    /** Degrees of freedom of the current's uncertainty; left out for infinitely many. */
    currentDegreesOfFreedom?: number;
    /** Standard uncertainty of a time on the rig's clock, in seconds. */
    timerSeconds: number;
  };
  ambientCelsius: number | null;
  /** The range that the test asks for; null where it asks for none. */
  ambientRange: { lowestCelsius: number; highestCelsius: number } | null;
  sensitivity: SensitivityModel;
  /** State of the specimen, where the test asks for a cold start. */
  coldness?: "cold" | "not cold" | "unknown";
  calibrationPastDue?: boolean;
  /** Tolerance on the current for the flag `regulation`, in percent of the target. */
  regulationPercent: number;
  /** When the programme would end the shot, in seconds from its onset. */
  endAtSeconds?: number;
  /** Frequency of the alternating current, for what the raw windows can show. */
  lineHz?: number;
}

/**
 * The fraction of the target from which on current counts as flowing: a tenth. It heats by one hundredth of what the target
 * would, so that what lies below it cannot move a trip, and it is far above the noise of a sensor that can hold the target.
 */
export const flowFraction = 0.1;

/** Refuses a context that is a caller's mistake. @throws RangeError naming the field, what was found and what is accepted */
export function checkContext(context: ReadingContext): void {
  const { basis } = context;
  above("ratedAmps", context.ratedAmps);
  above("targetAmps", context.targetAmps);
  above("basis.currentK", basis.currentK);
  notBelow("basis.currentPercent", basis.currentPercent, 0);
  notBelow("basis.timerSeconds", basis.timerSeconds, 0);
  notBelow("regulationPercent", context.regulationPercent, 0);
  if (basis.currentPercent >= 100) {
    throw new RangeError(`expected basis.currentPercent to be below 100 but found ${basis.currentPercent}`);
  }
  if (basis.currentDegreesOfFreedom !== undefined) {
    notBelow("basis.currentDegreesOfFreedom", basis.currentDegreesOfFreedom, 1);
  }
  if (context.endAtSeconds !== undefined) above("endAtSeconds", context.endAtSeconds);
  if (context.lineHz !== undefined) above("lineHz", context.lineHz);
  if (context.ambientCelsius !== null && !Number.isFinite(context.ambientCelsius)) {
    throw new RangeError(
      `expected ambientCelsius to be a temperature or null but found ${context.ambientCelsius}`,
    );
  }
}

/** The flags that follow from the circumstances of a shot, not from its samples. */
export function circumstanceFlags(context: ReadingContext): ReadingFlag[] {
  const flags: ReadingFlag[] = [];
  const { ambientCelsius: ambient, ambientRange: range } = context;
  if (range !== null && ambient === null) flags.push("ambient-unknown");
  if (
    range !== null &&
    ambient !== null &&
    !(ambient >= range.lowestCelsius && ambient <= range.highestCelsius)
  ) {
    flags.push("ambient-out-of-range");
  }
  if (context.coldness === "not cold") flags.push("not-cold");
  if (context.calibrationPastDue === true) flags.push("calibration-past-due");
  return flags;
}

function above(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new RangeError(`expected ${name} to be above zero but found ${value}`);
  }
}

function notBelow(name: string, value: number, least: number): void {
  if (!(value >= least && Number.isFinite(value))) {
    throw new RangeError(`expected ${name} to be ${least} or more but found ${value}`);
  }
}
