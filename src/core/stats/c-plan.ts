import { binomialAtMost } from "./binomial-tail.ts";
import { checkOpenProbability, checkWhole } from "./check-arguments.ts";
import { compareBinomialTail } from "./compare-binomial-tail.ts";
import { complement } from "./decimal.ts";
import { smallestWhole } from "./smallest-whole.ts";

/** How many specimens to test, and how likely a lot of exactly the stated reliability would be to pass. */
export interface DemonstrationPlan {
  n: number;
  acceptProbability: number;
}

/**
 * Demonstration plan that allows c failures: the smallest n with P(X <= c) <= 1 - C for X binomial(n, 1 - R).
 *
 * With c = 0 it is the success run. Ties are decided exactly, see {@link compareBinomialTail}.
 *
 * Source: Guenther W C (1977) Sampling Inspection in Statistical Quality Control, chapter 2 (from common practice).
 *
 * @throws RangeError if confidence or reliability is outside (0, 1), or c is not a whole number of 0 or more
 */
export function cPlan(confidence: number, reliability: number, c: number): DemonstrationPlan {
  checkOpenProbability("confidence", confidence);
  checkOpenProbability("reliability", reliability);
  checkWhole("c", c, 0);
  const failing = complement(reliability);
  const limit = complement(confidence);
  const n = smallestWhole(c + 1, (size) => compareBinomialTail(c, size, failing, limit) <= 0);
  return { n, acceptProbability: binomialAtMost(c, n, failing, reliability) };
}
