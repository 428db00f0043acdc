import gammaln from "@stdlib/math-base-special-gammaln";

/**
 * What Stirling's formula lacks: ln Γ(x + 1) - [ (x + 1/2) ln x - x + ln √(2π) ], for x > 0.
 *
 * Small and smooth, so that probabilities of large counts can be built from it without the cancellation of huge
 * log-factorials.
 *
 * Source: Loader C (2000) Fast and Accurate Computation of Binomial Probabilities; the series is that of
 * Abramowitz & Stegun (1964) 6.1.41.
 */
export function stirlingError(x: number): number {
  if (x <= 15) return gammaln(x + 1) - (x + 0.5) * Math.log(x) + x - HALF_LOG_TWO_PI;
  const square = 1 / (x * x);
  let sum = 0;
  for (const coefficient of SERIES) sum = coefficient + sum * square;
  return sum / x;
}

const HALF_LOG_TWO_PI = 0.9189385332046728;

/** Bernoulli terms B(2j) / (2j (2j - 1)), highest order first. */
const SERIES: readonly number[] = [-691 / 360360, 1 / 1188, -1 / 1680, 1 / 1260, -1 / 360, 1 / 12];
