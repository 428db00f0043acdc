import { betaQuantile } from "./beta-quantile.ts";
import { findRootAround } from "./find-root-around.ts";
import { incompleteBeta, logBetaSlope } from "./incomplete-beta.ts";
import { integrate } from "./integrate.ts";
import type { PosteriorRate } from "./posterior-rate.ts";

/** A rate with its complement apart, so that neither loses digits near 1. */
export interface Rate {
  p: number;
  q: number;
}

/** A quantity that rises from 0 with an uncertain rate. */
export interface RatePart {
  rate: PosteriorRate;
  /** The value at rate 1, may be Infinity */
  most: number;
  value(rate: Rate): number;
  /** The rate at which the quantity has a value; p >= 1 or q <= 0 where no rate gives as much */
  rateOf(value: number): Rate;
}

/**
 * The quantile of the sum of two quantities that rise with two independent uncertain rates.
 *
 * The distribution function is one integral over the first rate, of the second's beta distribution, on the logit scale; then a
 * root. The first rate's range is cut where less than 1e-20 of its probability is left.
 *
 * Source: the convolution integral, from its definition; integration as in {@link integrate}.
 *
 * @param probability in (0, 1)
 * @returns the quantile; 0 or Infinity where it lies beyond the range of doubles
 */
export function twoRateSumQuantile(probability: number, first: RatePart, second: RatePart): number {
  // Over the narrower of the two the other's distribution is smooth, and the integral quick
  const atMost =
    spreadOf(first) <= spreadOf(second) ? sumDistribution(first, second) : sumDistribution(second, first);
  const excess = (logSum: number) => atMost(Math.exp(logSum)) - probability;
  // Where a rate is believed to be 0 or 1 to within the range of doubles, so may the quantile be
  if (excess(LARGEST_LOG) < 0) return Number.POSITIVE_INFINITY;
  if (excess(-LARGEST_LOG) > 0) return 0;
  const start = Math.log(medianOf(first) + medianOf(second));
  return Math.exp(findRootAround(excess, start, 0.5));
}

const LARGEST_LOG = 700;

/** The quantile of one such quantity alone. */
export function ratePartQuantile(probability: number, part: RatePart): number {
  const { a, b } = part.rate;
  return part.value({
    p: betaQuantile(probability, a, b),
    q: betaQuantile(probability, b, a, "upper"),
  });
}

const medianOf = (part: RatePart) => ratePartQuantile(0.5, part);
const spreadOf = (part: RatePart) => ratePartQuantile(0.75, part) - ratePartQuantile(0.25, part);

function sumDistribution(first: RatePart, second: RatePart): (sum: number) => number {
  const { a, b } = first.rate;
  const negligible = 1e-20;
  const logit = ({ p, q }: Rate) => Math.log(p) - Math.log(q);
  const least = betaQuantile(negligible, a, b);
  const mostComplement = betaQuantile(negligible, b, a);
  const low = logit({ p: least, q: 1 - least });
  const high = logit({ p: 1 - mostComplement, q: mostComplement });
  const bulk = [0.001, 0.5, 0.999].map((share) => {
    return logit({ p: betaQuantile(share, a, b), q: betaQuantile(share, b, a, "upper") });
  });
  const secondMedian = medianOf(second);
  return (sum) => {
    const rateAt = (u: number): Rate => ({ p: 1 / (1 + Math.exp(-u)), q: 1 / (1 + Math.exp(u)) });
    const restAtMost = (rate: Rate) => {
      const rest = second.rateOf(Math.max(0, sum - first.value(rate)));
      return incompleteBeta(rest.p, rest.q, second.rate.a, second.rate.b).lower;
    };
    const largest = first.rateOf(sum);
    const end = largest.q <= 0 ? high : Math.min(high, logit(largest));
    // Up to this rate of the first, the second cannot make the sum too large; or it is next to nothing
    const free = first.rateOf(Math.max(0, sum - second.most));
    if (free.q <= 0) return 1;
    const isFree = free.p > 0 && logit(free) >= low;
    const start = isFree ? logit(free) : low;
    const head = rateAt(start);
    const upToStart = incompleteBeta(head.p, head.q, a, b).lower * (isFree ? 1 : restAtMost(head));
    const integrand = (u: number) => {
      const rate = rateAt(u);
      return Math.exp(logBetaSlope(rate.p, rate.q, a, b)) * restAtMost(rate);
    };
    // In pieces, so that neither the first's bulk nor the second's step is a spike in a wide range
    const step = first.rateOf(Math.max(0, sum - secondMedian));
    const inside = [...bulk, logit(step)].filter((u) => u > start && u < end).sort((u, v) => u - v);
    const ends = [...inside, end];
    return ends.reduce((total, to, i) => total + integrate(integrand, ends[i - 1] ?? start, to), upToStart);
  };
}
