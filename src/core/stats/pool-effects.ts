import t from "@stdlib/stats-base-dists-t";
import { checkOpenProbability } from "./check-arguments.ts";
import { chiSquareQuantile } from "./chi-square-quantile.ts";
import { chiSquareTail } from "./chi-square-tail.ts";
import type { Interval } from "./interval.ts";
import { likelihoodVariance } from "./likelihood-variance.ts";
import { derSimonianLaird, hedgesVariance, pauleMandel, varianceWhereSquaresAre } from "./moment-variance.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkEffects, type StudyEffect } from "./study.ts";
import { weightedMean } from "./weighted-mean.ts";

/**
 * How the between-study variance is had: EE takes it as 0 (common effect); DL DerSimonian-Laird; HE Hedges; PM Paule-Mandel;
 * ML and REML by (restricted) maximum likelihood.
 */
export const poolingMethods = ["EE", "DL", "HE", "PM", "ML", "REML"] as const;
export type PoolingMethod = (typeof poolingMethods)[number];

/** Studies pooled with inverse-variance weights. What one or two studies cannot tell is null. */
export interface PooledEffect {
  studies: number;
  estimate: number;
  standardError: number;
  /** Normal interval of the mean */
  interval: Interval;
  /** Hartung-Knapp standard error and t interval; the error is 0 where all estimates agree */
  hartungKnappError: number | null;
  hartungKnappInterval: Interval | null;
  /** Cochran's Q, always with the weights of the common effect */
  q: number;
  qDegreesOfFreedom: number;
  qP: number | null;
  tau2: number;
  /** (Q - df) / Q in percent, at least 0 */
  i2: number | null;
  /** Q / df */
  h2: number | null;
  /** Q-profile bounds of tau2; the upper one is null where no tau2 is compatible with so small a Q */
  tau2Bounds: { lower: number; upper: number | null } | null;
  /** Where a new study's true value is expected; t with studies - 2 degrees of freedom */
  predictionInterval: Interval | null;
  /** Share of each study in the estimate, in the order given, summing to 1 */
  weights: number[];
}

/**
 * Pool effects of studies: mean, its error, heterogeneity and prediction.
 *
 * Sources: DerSimonian & Laird (1986) Control Clin Trials 7:177-188; Hartung J, Knapp G (2001) Stat Med 20:3875-3889,
 * eq. 6; Higgins & Thompson (2002) Stat Med 21:1539-1558 (H², I²); Viechtbauer (2007) Stat Med 26:37-52, section 3.4
 * (Q-profile); Higgins, Thompson & Spiegelhalter (2009) JRSS A 172:137-159, eq. 12 (prediction).
 *
 * @throws RangeError for no effects, a variance that is not above 0, or a level outside (0, 1)
 */
export function poolEffects(
  effects: readonly StudyEffect[],
  method: PoolingMethod,
  level: number,
): PooledEffect {
  checkEffects(effects);
  checkOpenProbability("level", level);
  const count = effects.length;
  const df = count - 1;
  const q = weightedMean(effects, 0).squares;
  const tau2 = betweenStudyVariance(effects, method);
  const { estimate, weight, squares } = weightedMean(effects, tau2);
  const standardError = 1 / Math.sqrt(weight);
  const hartungKnappError = df > 0 ? Math.sqrt(squares / df / weight) : null;
  return {
    studies: count,
    estimate,
    standardError,
    interval: around(estimate, twoSidedNormalQuantile(level) * standardError),
    hartungKnappError,
    hartungKnappInterval:
      hartungKnappError === null ? null : around(estimate, twoSidedT(level, df) * hartungKnappError),
    q,
    qDegreesOfFreedom: df,
    qP: df > 0 ? chiSquareTail(q, df) : null,
    tau2,
    i2: df > 0 ? (q > df ? (100 * (q - df)) / q : 0) : null,
    h2: df > 0 ? q / df : null,
    tau2Bounds: df > 0 ? qProfileBounds(effects, level) : null,
    predictionInterval:
      count > 2 ? around(estimate, twoSidedT(level, count - 2) * Math.sqrt(tau2 + standardError ** 2)) : null,
    weights: effects.map(({ variance }) => 1 / (variance + tau2) / weight),
  };
}

function betweenStudyVariance(effects: readonly StudyEffect[], method: PoolingMethod): number {
  switch (method) {
    case "EE":
      return 0;
    case "DL":
      return derSimonianLaird(effects);
    case "HE":
      return hedgesVariance(effects);
    case "PM":
      return pauleMandel(effects);
    case "ML":
      return likelihoodVariance(effects, false);
    case "REML":
      return likelihoodVariance(effects, true);
  }
}

/** The values of tau2 at which the generalised Q lies inside its central chi-square range (Viechtbauer 2007, eq. 12-13). */
function qProfileBounds(effects: readonly StudyEffect[], level: number) {
  const df = effects.length - 1;
  const tail = (1 - level) / 2;
  return {
    lower: varianceWhereSquaresAre(effects, chiSquareQuantile(tail, df)) ?? 0,
    upper: varianceWhereSquaresAre(effects, chiSquareQuantile(1 - tail, df)),
  };
}

function around(centre: number, halfWidth: number): Interval {
  return { lower: centre - halfWidth, upper: centre + halfWidth };
}

function twoSidedT(level: number, df: number): number {
  return -t.quantile((1 - level) / 2, df);
}
