import { binomialAtMost } from "./binomial-tail.ts";
import { checkOpenProbability } from "./check-arguments.ts";
import { compareBinomialTail } from "./compare-binomial-tail.ts";
import { complement } from "./decimal.ts";
import { smallestWhole } from "./smallest-whole.ts";

/** Accept a lot if at most c of n specimens fail; the chances of acceptance at the two named failure rates. */
export interface AcceptancePlan {
  n: number;
  c: number;
  acceptAtP1: number;
  acceptAtP2: number;
}

const mostAllowedFailures = 20_000;

/**
 * The smallest acceptance plan that accepts good lots (rate p1) with probability of at least 1 - alpha and bad lots (rate p2)
 * with at most beta.
 *
 * For each c the smallest n that meets beta is the best for alpha too, so the first c that meets both gives the smallest n.
 * Ties are decided exactly, see {@link compareBinomialTail}.
 *
 * Source: Guenther W C (1969) J Qual Technol 1(2):105 (from memory).
 *
 * @throws RangeError if a probability is outside (0, 1), p1 is not below p2, or the two are so close that c exceeds 20,000
 */
export function twoPointPlan(p1: number, alpha: number, p2: number, beta: number): AcceptancePlan {
  checkOpenProbability("p1", p1);
  checkOpenProbability("alpha", alpha);
  checkOpenProbability("p2", p2);
  checkOpenProbability("beta", beta);
  if (p1 >= p2) throw new RangeError(`p1 must be below p2 = ${p2} but is ${p1}`);
  const wanted = complement(alpha);
  let n = 0;
  for (let c = 0; c <= mostAllowedFailures; c += 1) {
    n = smallestWhole(Math.max(n + 1, c + 1), (size) => compareBinomialTail(c, size, p2, beta) <= 0);
    if (compareBinomialTail(c, n, p1, wanted) >= 0) {
      return {
        n,
        c,
        acceptAtP1: binomialAtMost(c, n, p1, complement(p1)),
        acceptAtP2: binomialAtMost(c, n, p2, complement(p2)),
      };
    }
  }
  throw new RangeError(
    `p1 = ${p1} and p2 = ${p2} are too close: a plan would allow more than ${mostAllowedFailures} failures`,
  );
}
