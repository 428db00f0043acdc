import { windowIntegral } from "./_window-integral.ts";

/** Evenly spaced instantaneous values. */
export interface RawValues {
  values: ArrayLike<number>;
  stepSeconds: number;
}

/**
 * True RMS of each whole half cycle from `startSeconds` after the first value on, in the unit of the values.
 *
 * A half cycle of A sin(wt) has A/sqrt(2); with an offset d it has sqrt(A^2/2 + d^2 +- 4 A d/pi), and a whole cycle
 * sqrt(A^2/2 + d^2).
 *
 * @throws RangeError if the frequency or the step is not above zero, there are fewer than four values in a half cycle, or
 * the start lies outside the values
 */
export function halfCycleRms(raw: RawValues, lineHz: number, startSeconds = 0): number[] {
  const integral = windowIntegral(Float64Array.from(raw.values, (value) => value * value));
  return wholeWindows(raw, lineHz, startSeconds, 0.5).map(([from, to]) =>
    Math.sqrt(Math.max(0, integral(from, to)) / (to - from)),
  );
}

/**
 * Mean of each whole cycle from `startSeconds` on: the direct current in it, in the unit of the values.
 *
 * @throws RangeError as `halfCycleRms`
 */
export function cycleMeans(raw: RawValues, lineHz: number, startSeconds = 0): number[] {
  const integral = windowIntegral(raw.values);
  return wholeWindows(raw, lineHz, startSeconds, 1).map(([from, to]) => integral(from, to) / (to - from));
}

/** Windows of so many cycles as pairs of times in steps. */
function wholeWindows(
  { values, stepSeconds }: RawValues,
  lineHz: number,
  startSeconds: number,
  cycles: number,
): [from: number, to: number][] {
  if (!(lineHz > 0)) throw new RangeError(`expected a line frequency above zero but found ${lineHz}`);
  if (!(stepSeconds > 0)) throw new RangeError(`expected a step above zero but found ${stepSeconds}`);
  const perHalf = 1 / (2 * lineHz * stepSeconds);
  if (perHalf < 4) {
    throw new RangeError(`expected four values or more in a half cycle but found ${perHalf.toFixed(2)}`);
  }
  const start = startSeconds / stepSeconds;
  const end = values.length - 1;
  if (!(start >= 0 && start <= Math.max(0, end))) {
    throw new RangeError(`expected the start within the values but found ${startSeconds} s`);
  }
  const width = 2 * cycles * perHalf;
  const count = Math.max(0, Math.floor((end - start) / width + 1e-9));
  return Array.from({ length: count }, (_, i) => [start + i * width, Math.min(end, start + (i + 1) * width)]);
}
