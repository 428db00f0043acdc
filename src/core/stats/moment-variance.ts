import { findRoot } from "./find-root.ts";
import { checkEffects, type StudyEffect } from "./study.ts";
import { weightedMean } from "./weighted-mean.ts";

/**
 * Between-study variance by the method of DerSimonian and Laird: Q set equal to its expectation.
 *
 * Source: DerSimonian R, Laird N (1986) Control Clin Trials 7:177-188, eq. 8.
 *
 * @returns 0 or more; 0 for one study
 * @throws RangeError for no effects or a variance that is not above 0
 */
export function derSimonianLaird(effects: readonly StudyEffect[]): number {
  checkEffects(effects);
  const { weight, squaredWeight, squares } = weightedMean(effects, 0);
  if (effects.length < 2) return 0;
  return Math.max(0, (squares - (effects.length - 1)) / (weight - squaredWeight / weight));
}

/**
 * Between-study variance by the method of Hedges: variance of the unweighted effects less their mean sampling variance.
 *
 * Source: Hedges L V, Olkin I (1985) Statistical Methods for Meta-Analysis, chapter 9, eq. 10.
 *
 * @returns 0 or more; 0 for one study
 * @throws RangeError for no effects or a variance that is not above 0
 */
export function hedgesVariance(effects: readonly StudyEffect[]): number {
  checkEffects(effects);
  const count = effects.length;
  if (count < 2) return 0;
  const mean = effects.reduce((sum, { estimate }) => sum + estimate, 0) / count;
  const spread = effects.reduce((sum, { estimate }) => sum + (estimate - mean) ** 2, 0) / (count - 1);
  return Math.max(0, spread - effects.reduce((sum, { variance }) => sum + variance, 0) / count);
}

/**
 * Between-study variance by the method of Paule and Mandel: the one at which the generalised Q equals its degrees of freedom.
 *
 * Source: Paule R C, Mandel J (1982) J Res NBS 87:377-385, eq. 2.
 *
 * @returns 0 or more; 0 for one study
 * @throws RangeError for no effects or a variance that is not above 0
 */
export function pauleMandel(effects: readonly StudyEffect[]): number {
  checkEffects(effects);
  if (effects.length < 2) return 0;
  return varianceWhereSquaresAre(effects, effects.length - 1) ?? 0;
}

/** The tau2 at which Σ w (y - mean)², which falls with tau2, is `target` > 0; null where it is below it already at 0. */
export function varianceWhereSquaresAre(effects: readonly StudyEffect[], target: number): number | null {
  const excess = (tau2: number) => weightedMean(effects, tau2).squares - target;
  if (excess(0) < 0) return null;
  let high = Math.max(...effects.map(({ variance }) => variance));
  while (excess(high) > 0) high *= 4;
  return findRoot(excess, 0, high);
}
