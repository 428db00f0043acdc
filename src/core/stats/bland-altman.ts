import t from "@stdlib/stats-base-dists-t";
import { mean, sampleStandardDeviation } from "simple-statistics";
import { checkOpenProbability } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";
import { noncentralTQuantile } from "./noncentral-t-quantile.ts";
import { normalQuantile } from "./normal-quantile.ts";

/** Agreement of two methods that measured the same things. */
export interface Agreement {
  n: number;
  /** Mean of a - b */
  bias: number;
  /** Of the differences, with divisor n - 1 */
  standardDeviation: number;
  biasInterval: Interval;
  /** bias ± 1.96 standard deviations */
  limits: Interval;
  /** Exact intervals for the 2.5 % and 97.5 % points of the differences; `null` with fewer than three pairs or no scatter */
  lowerLimitInterval: Interval | null;
  upperLimitInterval: Interval | null;
}

/**
 * Limits of agreement between paired measurements, with an interval for the bias and exact ones for the limits.
 *
 * Source: Bland J M, Altman D G (1986) Lancet i:307-310; exact intervals from the noncentral t distribution: Carkeet A (2015)
 * Optom Vis Sci 92:e71-e80.
 *
 * @param a, b measurements of the same things in the same order, two or more
 * @throws RangeError for lists of different length, fewer than two pairs, values that are not finite, or a level outside (0, 1)
 */
export function blandAltman(a: readonly number[], b: readonly number[], level: number): Agreement {
  checkOpenProbability("level", level);
  const differences = pairedDifferences(a, b);
  const n = differences.length;
  if (n < 2) throw new RangeError(`pairs must be two or more but are ${n}`);
  const bias = mean(differences);
  const standardDeviation = sampleStandardDeviation(differences);
  const tail = (1 - level) / 2;
  const biasReach = (-t.quantile(tail, n - 1) * standardDeviation) / Math.sqrt(n);
  // Scatter below the rounding of the measurements themselves is none
  const rounding = 4 * Number.EPSILON * Math.max(...a.map(Math.abs), ...b.map(Math.abs));
  const scattered = standardDeviation > rounding && n >= 3;
  const reach = (probability: number) =>
    (noncentralTQuantile(probability, n - 1, -normalQuantile(0.025) * Math.sqrt(n)) * standardDeviation) /
    Math.sqrt(n);
  const near = scattered ? reach(tail) : 0;
  const far = scattered ? reach(1 - tail) : 0;
  return {
    n,
    bias,
    standardDeviation,
    biasInterval: { lower: bias - biasReach, upper: bias + biasReach },
    limits: { lower: bias - 1.96 * standardDeviation, upper: bias + 1.96 * standardDeviation },
    lowerLimitInterval: scattered ? { lower: bias - far, upper: bias - near } : null,
    upperLimitInterval: scattered ? { lower: bias + near, upper: bias + far } : null,
  };
}

/** a - b, pair by pair. @throws RangeError for lists of different length or values that are not finite */
export function pairedDifferences(a: readonly number[], b: readonly number[]): number[] {
  if (a.length !== b.length) {
    throw new RangeError(`lists must be of one length but have ${a.length} and ${b.length} values`);
  }
  return a.map((value, index) => {
    const difference = value - (b[index] ?? Number.NaN);
    if (!Number.isFinite(difference)) {
      throw new RangeError(`pair ${index + 1} must be two finite numbers but is ${value} and ${b[index]}`);
    }
    return difference;
  });
}
