import normal from "@stdlib/stats-base-dists-normal";
import { checkCounts } from "./check-arguments.ts";

/** Counts at one value of an ordered quantity. */
export interface ScoredGroup {
  x: number;
  n: number;
  score: number;
}

/** Trend of a rate with the score: z > 0 where the rate rises. */
export interface Trend {
  z: number;
  chiSquare: number;
  pTwoSided: number;
  pIncreasing: number;
  pDecreasing: number;
}

/**
 * Cochran-Armitage test for a linear trend in proportions, with the variance that divides by N.
 *
 * `null` where there is no statistic: no event at all, nothing but events, or all scores the same.
 *
 * Source: Cochran W G (1954) Biometrics 10:417-451; Armitage P (1955) Biometrics 11:375-386.
 *
 * @throws RangeError with fewer than two groups, counts that cannot be, or scores that are not finite
 */
export function cochranArmitage(groups: readonly ScoredGroup[]): Trend | null {
  if (groups.length < 2) throw new RangeError(`groups must be two or more but are ${groups.length}`);
  for (const [index, { x, n, score }] of groups.entries()) {
    checkCounts(x, n, `group ${index + 1}: `);
    if (!Number.isFinite(score))
      throw new RangeError(`group ${index + 1}: score must be finite but is ${score}`);
  }
  const total = sum(groups, ({ n }) => n);
  const events = sum(groups, ({ x }) => x);
  const meanScore = sum(groups, ({ n, score }) => n * score) / total;
  const spread = sum(groups, ({ n, score }) => n * (score - meanScore) ** 2);
  const allAlike = groups.every(({ score }) => score === groups[0]?.score);
  if (events === 0 || events === total || allAlike) return null;
  const departure = sum(groups, ({ x, n, score }) => (x - (events / total) * n) * (score - meanScore));
  const z = departure / Math.sqrt((events / total) * (1 - events / total) * spread);
  return {
    z,
    chiSquare: z * z,
    pTwoSided: 2 * normal.cdf(-Math.abs(z), 0, 1),
    pIncreasing: normal.cdf(-z, 0, 1),
    pDecreasing: normal.cdf(z, 0, 1),
  };
}

function sum(groups: readonly ScoredGroup[], of: (group: ScoredGroup) => number): number {
  return groups.reduce((total, group) => total + of(group), 0);
}
