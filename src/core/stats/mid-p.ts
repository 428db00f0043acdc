import { betaQuantile } from "./beta-quantile.ts";
import { binomialAtLeast, binomialAtMost } from "./binomial-tail.ts";
import { checkCounts, checkOpenProbability } from "./check-arguments.ts";
import { findRoot } from "./find-root.ts";
import type { Interval } from "./interval.ts";

/**
 * Mid-P interval for a proportion: as the exact one, but with only half of the probability of the observed count in the tail.
 *
 * Source: Lancaster H O (1961) JASA 56:223-234; Newcombe R G (1998) Stat Med 17:857-872, method 6.
 *
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function midP(k: number, n: number, level: number): Interval {
  checkOpenProbability("level", level);
  const tail = (1 - level) / 2;
  return { lower: midPLower(k, n, tail), upper: midPUpper(k, n, tail) };
}

/** The p with P(X > k) + P(X = k)/2 = tail; 0 at k = 0. */
export function midPLower(k: number, n: number, tail: number): number {
  checkCounts(k, n);
  checkOpenProbability("tail probability", tail);
  if (k === 0) return 0;
  if (k === n) return Math.min(1, Math.exp(Math.log(2 * tail) / n));
  // The mean of two tails equals `tail` between the two points at which one of them does
  const low = betaQuantile(tail, k, n - k + 1);
  const high = betaQuantile(tail, k + 1, n - k);
  return rootOfLogTail(low, high, (p, q) => {
    return (binomialAtLeast(k, n, p, q) + binomialAtLeast(k + 1, n, p, q)) / 2 / tail;
  });
}

/** The p with P(X < k) + P(X = k)/2 = tail; 1 at k = n. */
export function midPUpper(k: number, n: number, tail: number): number {
  checkCounts(k, n);
  checkOpenProbability("tail probability", tail);
  if (k === n) return 1;
  if (k === 0) return Math.max(0, -Math.expm1(Math.log(2 * tail) / n));
  const low = betaQuantile(tail, k, n - k + 1, "upper");
  const high = betaQuantile(tail, k + 1, n - k, "upper");
  return rootOfLogTail(low, high, (p, q) => {
    return (binomialAtMost(k, n, p, q) + binomialAtMost(k - 1, n, p, q)) / 2 / tail;
  });
}

/** The p between two proportions at which `ratio` is 1, sought on the logit scale so that small ones keep their digits. */
function rootOfLogTail(low: number, high: number, ratio: (p: number, q: number) => number): number {
  const logit = (p: number) => Math.log(p) - Math.log1p(-p);
  const at = (u: number) => Math.log(ratio(1 / (1 + Math.exp(-u)), 1 / (1 + Math.exp(u))));
  const u = findRoot(at, logit(low) - 1e-9, logit(high) + 1e-9);
  return 1 / (1 + Math.exp(-u));
}
