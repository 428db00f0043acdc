import { checkCounts } from "./check-arguments.ts";

/** A beta distribution of a failure rate. */
export interface PosteriorRate {
  a: number;
  b: number;
}

/**
 * What k failures among n tested leave to be believed of a rate: Beta(k + prior, n - k + prior).
 *
 * A prior of 1/2 is Jeffreys', of 1 the uniform one. n = 0 is allowed: nothing tested, the prior alone.
 *
 * Source: Gelman A et al. (2013) Bayesian Data Analysis, 3rd ed., section 2.4 (from memory).
 *
 * @throws RangeError for counts that cannot be, or a prior not above 0
 */
export function posteriorRate(k: number, n: number, prior: number): PosteriorRate {
  if (!(prior > 0 && Number.isFinite(prior))) throw new RangeError(`prior must be above 0 but is ${prior}`);
  if (!(n === 0 && k === 0)) checkCounts(k, n);
  return { a: k + prior, b: n - k + prior };
}
