import { deviancePart } from "./deviance-part.ts";
import { stirlingError } from "./stirling-error.ts";

/**
 * Natural logarithm of Γ(n+1) / (Γ(k+1) Γ(n-k+1)) · p^k q^(n-k): the binomial probability of k of n, also for real k and n.
 *
 * The complement q = 1 - p is an argument of its own, so that neither of two extreme probabilities loses digits. The
 * relative error of the probability stays near 1e-14 for counts in the millions, where log-factorials alone lose ten digits.
 *
 * Source: Loader C (2000) Fast and Accurate Computation of Binomial Probabilities.
 *
 * @param k from 0 to n
 * @param n above 0
 */
export function logBinomialProbability(k: number, n: number, p: number, q: number = 1 - p): number {
  if (p <= 0) return k === 0 ? 0 : Number.NEGATIVE_INFINITY;
  if (q <= 0) return k === n ? 0 : Number.NEGATIVE_INFINITY;
  if (k === 0) return n * logOf(q, p);
  if (k === n) return n * logOf(p, q);
  const rest = n - k;
  const exponent =
    stirlingError(n) -
    stirlingError(k) -
    stirlingError(rest) -
    deviancePart(k, n * p) -
    deviancePart(rest, n * q);
  return exponent + 0.5 * Math.log(n / k / rest / (2 * Math.PI));
}

/** ln x where x = 1 - complement, taken from whichever of the two is the smaller and so the more exact. */
function logOf(x: number, complement: number): number {
  return complement < 0.5 ? Math.log1p(-complement) : Math.log(x);
}
