import { deviancePart } from "./deviance-part.ts";
import { stirlingError } from "./stirling-error.ts";

/**
 * Natural logarithm of Γ(n+1) / (Γ(k+1) Γ(m+1)) · p^k q^m with n = k + m: the binomial probability of k and m of two kinds,
 * also for counts that are not whole.
 *
 * Counts and probabilities of both kinds are given, so that neither of two extremes loses digits. The relative error of the
 * probability stays near 1e-14 for counts in the millions, where log-factorials alone lose ten digits.
 *
 * Source: Loader C (2000) Fast and Accurate Computation of Binomial Probabilities.
 *
 * @param k, m counts of 0 or more, not both 0
 * @param q 1 - p
 */
export function logBinomialProbability(k: number, m: number, p: number, q: number = 1 - p): number {
  if (p <= 0) return k === 0 ? 0 : Number.NEGATIVE_INFINITY;
  if (q <= 0) return m === 0 ? 0 : Number.NEGATIVE_INFINITY;
  if (k === 0) return m * logOf(q, p);
  if (m === 0) return k * logOf(p, q);
  const n = k + m;
  const exponent =
    stirlingError(n) - stirlingError(k) - stirlingError(m) - deviancePart(k, n * p) - deviancePart(m, n * q);
  return exponent + 0.5 * Math.log(n / k / m / (2 * Math.PI));
}

/** ln x where x = 1 - complement, taken from whichever of the two is the smaller and so the more exact. */
function logOf(x: number, complement: number): number {
  return complement < 0.5 ? Math.log1p(-complement) : Math.log(x);
}
