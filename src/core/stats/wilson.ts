import { checkCounts, checkOpenProbability } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";
import { normalQuantile, twoSidedNormalQuantile } from "./normal-quantile.ts";

/**
 * Wilson's score interval for a proportion, without continuity correction: short, and right on average rather than always.
 *
 * Source: Wilson E B (1927) JASA 22:209-212; Newcombe R G (1998) Stat Med 17:857-872, method 3.
 *
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function wilson(k: number, n: number, level: number): Interval {
  checkCounts(k, n);
  const z = twoSidedNormalQuantile(level);
  return { lower: scoreLimit(k, n, -z), upper: scoreLimit(k, n, z) };
}

/** One-sided lower Wilson bound. @throws as {@link wilson} */
export function wilsonLower(k: number, n: number, confidence: number): number {
  checkCounts(k, n);
  checkOpenProbability("confidence", confidence);
  return scoreLimit(k, n, normalQuantile(1 - confidence));
}

/** One-sided upper Wilson bound. @throws as {@link wilson} */
export function wilsonUpper(k: number, n: number, confidence: number): number {
  checkCounts(k, n);
  checkOpenProbability("confidence", confidence);
  return scoreLimit(k, n, -normalQuantile(1 - confidence));
}

/**
 * The proportion at which (k/n - p) / √(p (1 - p) / n) is -z: an upper limit for z > 0, a lower one for z < 0.
 *
 * The lower one is written as a quotient of sums, so that small limits keep their digits and the ends come out as exactly 0
 * and 1.
 */
function scoreLimit(k: number, n: number, z: number): number {
  const square = z * z;
  const sum = k + square / 2 + Math.abs(z) * Math.sqrt((k * (n - k)) / n + square / 4);
  if (z < 0) return k === 0 ? 0 : (k / n) * (k / sum);
  return k === n ? 1 : sum / (n + square);
}
