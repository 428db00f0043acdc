import { chiSquareTail } from "./chi-square-tail.ts";
import { type PooledEffect, type PoolingMethod, poolEffects } from "./pool-effects.ts";
import { checkEffects, type StudyEffect } from "./study.ts";
import { weightedMean } from "./weighted-mean.ts";

/** Studies pooled within subgroups, and the test that the subgroups have one mean. */
export interface PooledSubgroups {
  /** One for each subgroup, in the order given, each with a between-study variance of its own */
  subgroups: PooledEffect[];
  /** Between-group Q: the subgroups' estimates weighed by their own standard errors */
  q: number;
  degreesOfFreedom: number;
  p: number;
}

/**
 * Pool studies within subgroups and compare the subgroups.
 *
 * Source: Borenstein M, Hedges L V, Higgins J P T, Rothstein H R (2009) Introduction to Meta-Analysis, chapter 19, method
 * 2 (Q-test for heterogeneity of the subgroup means; separate estimates of tau2).
 *
 * @param groups two or more, none without studies
 * @throws RangeError for fewer than two subgroups, an empty one, a variance that is not above 0, or a level outside (0, 1)
 */
export function poolSubgroups(
  groups: readonly (readonly StudyEffect[])[],
  method: PoolingMethod,
  level: number,
): PooledSubgroups {
  if (groups.length < 2) throw new RangeError(`subgroups must be two or more but are ${groups.length}`);
  for (const group of groups) checkEffects(group);
  const subgroups = groups.map((group) => poolEffects(group, method, level));
  const { squares } = weightedMean(
    subgroups.map(({ estimate, standardError }) => ({ estimate, variance: standardError ** 2 })),
    0,
  );
  const degreesOfFreedom = groups.length - 1;
  return { subgroups, q: squares, degreesOfFreedom, p: chiSquareTail(squares, degreesOfFreedom) };
}
