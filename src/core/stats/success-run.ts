import { checkOpenProbability, checkWhole } from "./check-arguments.ts";
import { compareBinomialTail } from "./compare-binomial-tail.ts";
import { complement } from "./decimal.ts";

/** How many specimens must all pass. `realSolution` is the n, seldom whole, at which R^n = 1 - C. */
export interface SuccessRun {
  n: number;
  realSolution: number;
}

/**
 * Zero-failure demonstration: the smallest n with R^n <= 1 - C, for reliability R at confidence C.
 *
 * Confidence and reliability are taken as the decimals they are written as: rounding of the logarithms must not add or drop
 * a specimen where R^n = 1 - C exactly (0.8² = 1 - 0.36).
 *
 * Source: success-run theorem, ln(1 - C) / ln R, as in MIL-HDBK-H108 and the NIST/SEMATECH e-Handbook section 8.3.1 (from
 * common practice).
 *
 * @throws RangeError if either is outside (0, 1)
 */
export function successRun(confidence: number, reliability: number): SuccessRun {
  checkOpenProbability("confidence", confidence);
  checkOpenProbability("reliability", reliability);
  const realSolution = logComplement(confidence) / logComplement(complement(reliability));
  const nearest = Math.max(1, Math.round(realSolution));
  if (Math.abs(realSolution - nearest) > 1e-13 * nearest) {
    return { n: Math.max(1, Math.ceil(realSolution)), realSolution };
  }
  const order = compareBinomialTail(0, nearest, complement(reliability), complement(confidence));
  return { n: order <= 0 ? nearest : nearest + 1, realSolution: order === 0 ? nearest : realSolution };
}

/** What n passes without failure demonstrate. */
export interface DemonstratedReliability {
  reliability: number;
  failureRateUpper: number;
}

/**
 * Reliability demonstrated by n passes and no failure: (1 - C)^(1/n), and the failure rate that it leaves.
 *
 * Source: as {@link successRun}.
 *
 * @throws RangeError if the confidence is outside (0, 1) or n is not a whole number of 1 or more
 */
export function successRunReliability(confidence: number, n: number): DemonstratedReliability {
  checkOpenProbability("confidence", confidence);
  checkWhole("n", n, 1);
  const exponent = logComplement(confidence) / n;
  return { reliability: Math.exp(exponent), failureRateUpper: -Math.expm1(exponent) };
}

/** ln(1 - x) of the decimal x. */
function logComplement(x: number): number {
  return x < 0.5 ? Math.log1p(-x) : Math.log(complement(x));
}
