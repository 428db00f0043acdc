import { incompleteBeta } from "./incomplete-beta.ts";

/**
 * P(X <= k) for X binomial(n, p).
 *
 * Source: DLMF 8.17.5 (the tail as an incomplete
 * beta function).
 *
 * @param k whole number; below 0 the answer is 0, from n on it is 1
 * @param q 1 - p, where it is known to more digits than the subtraction gives
 */
export function binomialAtMost(k: number, n: number, p: number, q: number = 1 - p): number {
  if (k < 0) return 0;
  if (k >= n) return 1;
  return incompleteBeta(p, q, k + 1, n - k).upper;
}

/** P(X >= k) for X binomial(n, p); arguments as in {@link binomialAtMost}. */
export function binomialAtLeast(k: number, n: number, p: number, q: number = 1 - p): number {
  if (k <= 0) return 1;
  if (k > n) return 0;
  return incompleteBeta(p, q, k, n - k + 1).lower;
}
