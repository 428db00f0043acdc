import { checkOpenProbability, checkWhole } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";
import type { PosteriorRate } from "./posterior-rate.ts";
import { type RatePart, ratePartQuantile, twoRateSumQuantile } from "./two-rate-sum.ts";

/** A panel: so many one-pole and two-pole breakers, and what is believed of the failure rate of each kind. */
export interface Panel {
  single: { count: number; rate: PosteriorRate };
  double: { count: number; rate: PosteriorRate };
}

/** What is believed of a quantity. */
export interface Belief {
  mean: number;
  standardDeviation: number;
  median: number;
  /** Equal tails at the wanted level */
  interval: Interval;
  /** Exceeded with probability 0.05 */
  upperOneSided95: number;
}

/**
 * Probability that at least one breaker of a panel would fail: 1 - (1 - p1)^n1 (1 - p2)^n2, with the uncertainty of both rates.
 *
 * The mean is over that uncertainty and is not what the mean rates would give. It presumes that, rates given, breakers fail
 * independently of each other, and that the tested ones stand for those in the panel.
 *
 * Source: beta-binomial moments, Johnson N L, Kemp A W, Kotz S (2005) Univariate Discrete Distributions, section 6.2.2; the
 * quantiles from the definition.
 *
 * @throws RangeError if a count is not a whole number of 0 or more, or the level outside (0, 1)
 */
export function panelRisk(panel: Panel, level: number): Belief {
  checkPanel(panel);
  checkOpenProbability("level", level);
  const parts = [panel.single, panel.double].map((kind) => survivalMoments(kind.count, kind.rate));
  const logMean = parts.reduce((sum, part) => sum + part.logMean, 0);
  const logRelative = parts.reduce((sum, part) => sum + part.logRelativeSquare, 0);
  const exponents = [panel.single, panel.double]
    .filter(({ count }) => count > 0)
    .map(({ count, rate }) => survivalExponent(count, rate));
  const quantile = (probability: number) => Math.abs(Math.expm1(-quantileOfSum(probability, exponents)));
  return {
    mean: Math.abs(Math.expm1(logMean)),
    standardDeviation: Math.exp(logMean) * Math.sqrt(Math.expm1(logRelative)),
    ...quantilesOf(quantile, level),
  };
}

/** Quantile of the sum of none, one or two parts. */
export function quantileOfSum(probability: number, parts: readonly RatePart[]): number {
  const [first, second] = parts;
  if (first === undefined) return 0;
  return second === undefined
    ? ratePartQuantile(probability, first)
    : twoRateSumQuantile(probability, first, second);
}

/** Median, equal-tailed interval and 95 % upper bound from a quantile function. */
export function quantilesOf(
  quantile: (probability: number) => number,
  level: number,
): Pick<Belief, "median" | "interval" | "upperOneSided95"> {
  const tail = (1 - level) / 2;
  return {
    median: quantile(0.5),
    interval: { lower: quantile(tail), upper: quantile(1 - tail) },
    upperOneSided95: quantile(0.95),
  };
}

/** Refuse counts that are not whole numbers of 0 or more. @throws RangeError */
export function checkPanel({ single, double }: Panel): void {
  checkWhole("number of one-pole breakers", single.count, 0);
  checkWhole("number of two-pole breakers", double.count, 0);
}

/** -n ln(1 - p), whose sum over the kinds is -ln of the probability that none fails. */
function survivalExponent(count: number, rate: PosteriorRate): RatePart {
  return {
    rate,
    most: Number.POSITIVE_INFINITY,
    value: ({ p, q }) => -count * (p < 0.5 ? Math.log1p(-p) : Math.log(q)),
    rateOf: (value) => ({ p: -Math.expm1(-value / count), q: Math.exp(-value / count) }),
  };
}

/** ln E Q and ln (E Q² / (E Q)²) for Q = (1 - p)^n, as sums of terms of one sign. */
function survivalMoments(n: number, { a, b }: PosteriorRate) {
  let logMean = 0;
  let logRelativeSquare = 0;
  for (let i = 0; i < n; i += 1) {
    logMean += Math.log1p(-a / (a + b + i));
    logRelativeSquare += Math.log1p((a * n) / ((a + b + n + i) * (b + i)));
  }
  return { logMean, logRelativeSquare };
}
