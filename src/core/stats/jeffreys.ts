import { betaQuantile } from "./beta-quantile.ts";
import { checkCounts, checkOpenProbability } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";

/**
 * Jeffreys interval: equal tails of the posterior Beta(k + 1/2, n - k + 1/2), with lower limit 0 at k = 0 and upper 1 at k = n.
 *
 * Source: Brown L D, Cai T T, DasGupta A (2001) Stat Sci 16:101-133, with their rule for the ends.
 *
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function jeffreys(k: number, n: number, level: number): Interval {
  checkOpenProbability("level", level);
  const tail = (1 - level) / 2;
  return { lower: jeffreysLower(k, n, tail), upper: jeffreysUpper(k, n, tail) };
}

/** Posterior mean under the Jeffreys prior. @throws RangeError for counts that are not k of n */
export function jeffreysMean(k: number, n: number): number {
  checkCounts(k, n);
  return (k + 0.5) / (n + 1);
}

/** The proportion below which the posterior has probability `tail`; 0 at k = 0. */
export function jeffreysLower(k: number, n: number, tail: number): number {
  checkCounts(k, n);
  checkOpenProbability("tail probability", tail);
  return k === 0 ? 0 : betaQuantile(tail, k + 0.5, n - k + 0.5);
}

/** The proportion above which the posterior has probability `tail`; 1 at k = n. */
export function jeffreysUpper(k: number, n: number, tail: number): number {
  checkCounts(k, n);
  checkOpenProbability("tail probability", tail);
  return k === n ? 1 : betaQuantile(tail, k + 0.5, n - k + 0.5, "upper");
}
