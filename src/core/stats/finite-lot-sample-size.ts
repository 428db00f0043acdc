import { checkOpenProbability, checkWhole } from "./check-arguments.ts";
import { compareHypergeometricTail } from "./compare-hypergeometric-tail.ts";
import { complement } from "./decimal.ts";
import { hypergeometricAtMost } from "./hypergeometric-tail.ts";
import { smallestWhole } from "./smallest-whole.ts";

/** How many of a lot to test, and the chance that they all pass although `bad` of the lot are bad. */
export interface LotSampleSize {
  n: number;
  passProbability: number;
}

/**
 * The smallest sample from a finite lot that, without a failure, rules out `bad` or more bad items: P(X = 0) <= 1 - C.
 *
 * Source: Guenther W C (1977) Sampling Inspection in Statistical Quality Control, chapter 2 (from common practice). Ties are
 * decided exactly.
 *
 * @param size items in the lot
 * @param bad number of bad items to be ruled out, from 1 to `size`
 * @throws RangeError for counts that cannot be, or a confidence outside (0, 1)
 */
export function finiteLotSampleSize(size: number, bad: number, confidence: number): LotSampleSize {
  checkWhole("lot size", size, 1);
  checkWhole("number of bad items", bad, 1);
  if (bad > size)
    throw new RangeError(`number of bad items must be at most the lot size ${size} but is ${bad}`);
  checkOpenProbability("confidence", confidence);
  const limit = complement(confidence);
  const n = smallestWhole(1, (drawn) => {
    return drawn > size - bad || compareHypergeometricTail(0, { size, bad, drawn }, limit) <= 0;
  });
  return { n, passProbability: hypergeometricAtMost(0, { size, bad, drawn: n }) };
}
