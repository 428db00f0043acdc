import { logBinomialProbability } from "./binomial-probability.ts";

/** A lot of `size` items of which `bad` are bad, and a sample of `drawn` of them without replacement. */
export interface Draw {
  size: number;
  bad: number;
  drawn: number;
}

/**
 * P(X <= k) for X the number of bad items in the sample.
 *
 * One probability from Loader's expansion, the others by the ratio of neighbours, away from the middle of the distribution,
 * so that the smaller tail is exact in its own digits.
 *
 * Source: Loader C (2000) Fast and Accurate Computation of Binomial Probabilities (the probability as a product of
 * three binomial ones).
 *
 * @param k whole number; beyond the possible values the answer is 0 or 1
 */
export function hypergeometricAtMost(k: number, draw: Draw): number {
  const { size, bad, drawn } = draw;
  const least = Math.max(0, drawn + bad - size);
  const most = Math.min(drawn, bad);
  if (k < least) return 0;
  if (k >= most) return 1;
  if (k + 1 > ((drawn + 1) * (bad + 1)) / (size + 2)) return 1 - sumAbove(k + 1, draw);
  let term = hypergeometricProbability(k, draw);
  let sum = 0;
  for (let i = k; i >= least && term > sum * 1e-18; i -= 1) {
    sum += term;
    term *= ((i / (bad - i + 1)) * (size - bad - drawn + i)) / (drawn - i + 1);
  }
  return Math.min(1, sum);
}

/** P(X >= k) for X the number of bad items in the sample; see {@link hypergeometricAtMost}. */
export function hypergeometricAtLeast(k: number, { size, bad, drawn }: Draw): number {
  // The sample's bad items are those drawn less its good ones
  return hypergeometricAtMost(drawn - k, { size, bad: size - bad, drawn });
}

function sumAbove(k: number, { size, bad, drawn }: Draw): number {
  let term = hypergeometricProbability(k, { size, bad, drawn });
  let sum = 0;
  const most = Math.min(drawn, bad);
  for (let i = k; i <= most && term > sum * 1e-18; i += 1) {
    sum += term;
    term *= (((bad - i) / (i + 1)) * (drawn - i)) / (size - bad - drawn + i + 1);
  }
  return Math.min(1, sum);
}

/** P(X = k) for X the number of bad items in the sample, k being possible. */
export function hypergeometricProbability(k: number, { size, bad, drawn }: Draw): number {
  if (drawn === 0 || drawn === size) return 1;
  const p = drawn / size;
  const q = (size - drawn) / size;
  const good = size - bad;
  const of = (chosen: number, among: number) =>
    among === 0 ? 0 : logBinomialProbability(chosen, among - chosen, p, q);
  return Math.exp(of(k, bad) + of(drawn - k, good) - of(drawn, size));
}
