import { chiSquareTail } from "./chi-square-tail.ts";
import { checkEffects, type StudyEffect } from "./study.ts";
import { weightedMean } from "./weighted-mean.ts";

/** Whether groups of studies, each pooled on its own, have one mean. */
export interface SubgroupDifference {
  q: number;
  degreesOfFreedom: number;
  p: number;
}

/**
 * Q between subgroups: Σ (mean - grand mean)² / SE² over their pooled means, against chi-square with groups - 1 degrees of
 * freedom. Each group has its own between-study variance.
 *
 * Source: Borenstein M, Hedges L V, Higgins J P T, Rothstein H R (2009) Introduction to Meta-Analysis, chapter 19, Q-test based on
 * analysis of variance (formula from memory).
 *
 * @param means pooled mean of each group with the square of its standard error
 * @returns null for one group
 * @throws RangeError for no groups, or a variance that is not above 0
 */
export function subgroupDifference(means: readonly StudyEffect[]): SubgroupDifference | null {
  checkEffects(means);
  const degreesOfFreedom = means.length - 1;
  if (degreesOfFreedom < 1) return null;
  const q = weightedMean(means, 0).squares;
  return { q, degreesOfFreedom, p: chiSquareTail(q, degreesOfFreedom) };
}
