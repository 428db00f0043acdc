import { betaQuantile } from "./beta-quantile.ts";
import { checkCounts, checkOpenProbability } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";

/**
 * Exact (Clopper-Pearson) interval for a proportion: it covers the truth at least as often as `level` says, whatever it is.
 *
 * Each limit is the proportion at which the tail beyond the observed count is (1 - level) / 2, found as a beta quantile. At
 * k = 0 the lower limit is exactly 0, at k = n the upper is exactly 1.
 *
 * Source: Clopper C, Pearson E S (1934) Biometrika 26:404-413; Brown, Cai & DasGupta (2001) Stat Sci 16:101-133.
 *
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 * @example clopperPearson(0, 20, 0.95); // { lower: 0, upper: 0.16843… }
 */
export function clopperPearson(k: number, n: number, level: number): Interval {
  checkOpenProbability("level", level);
  const tail = (1 - level) / 2;
  return { lower: clopperPearsonLower(k, n, tail), upper: clopperPearsonUpper(k, n, tail) };
}

/** The proportion p with P(X >= k) = tail: a one-sided lower bound of confidence 1 - tail. */
export function clopperPearsonLower(k: number, n: number, tail: number): number {
  checkCounts(k, n);
  checkOpenProbability("tail probability", tail);
  if (k === 0) return 0;
  if (k === n) return Math.exp(Math.log(tail) / n);
  return betaQuantile(tail, k, n - k + 1);
}

/** The proportion p with P(X <= k) = tail: a one-sided upper bound of confidence 1 - tail. */
export function clopperPearsonUpper(k: number, n: number, tail: number): number {
  checkCounts(k, n);
  checkOpenProbability("tail probability", tail);
  if (k === n) return 1;
  // 1 - tail^(1/n) without cancellation
  if (k === 0) return -Math.expm1(Math.log(tail) / n);
  return betaQuantile(tail, k + 1, n - k, "upper");
}
