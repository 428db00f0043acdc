import { findRoot } from "./find-root.ts";
import type { Interval } from "./interval.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/**
 * Score interval for the ratio p1 / p2.
 *
 * The limits are the ratios at which (p̂1 - θ p̂2)² = z² V(θ), V being the variance at the most likely pair of rates in that
 * ratio. The lower limit is 0 without an event in the first group, the upper Infinity without one in the second.
 *
 * Source: Koopman P A R (1984) Biometrics 40:513-517; in this form Miettinen O, Nurminen M (1985) Stat Med 4:213-226, without
 * their factor N/(N - 1).
 *
 * @throws RangeError for counts that cannot be, or a level outside (0, 1)
 */
export function koopmanRelativeRisk(groups: TwoGroups, level: number): Interval {
  checkTwoGroups(groups);
  const z = twoSidedNormalQuantile(level);
  const { x1, n1, x2, n2 } = groups;
  const start = Math.log(x1 === 0 ? 0.5 / n1 : x1 / n1) - Math.log(x2 === 0 ? 0.5 / n2 : x2 / n2);
  const excess = (logRatio: number) => {
    const ratio = Math.exp(logRatio);
    const p2 = constrainedRate(groups, ratio);
    const p1 = ratio * p2;
    const variance = (p1 * Math.max(0, 1 - p1)) / n1 + (ratio * ratio * p2 * (1 - p2)) / n2;
    return (x1 / n1 - ratio * (x2 / n2)) ** 2 - z * z * variance;
  };
  return {
    lower: x1 === 0 ? 0 : Math.exp(rootFrom(start, -1, excess)),
    upper: x2 === 0 ? Number.POSITIVE_INFINITY : Math.exp(rootFrom(start, 1, excess)),
  };
}

/** The second group's rate that maximises the likelihood when the first is `ratio` times as large. */
function constrainedRate({ x1, n1, x2, n2 }: TwoGroups, ratio: number): number {
  const first = ratio * (n1 + x2);
  const second = x1 + n2;
  const root = Math.sqrt((first - second) ** 2 + 4 * ratio * (n1 - x1) * (n2 - x2));
  return (2 * (x1 + x2)) / (first + second + root);
}

/** The root in one direction from a point inside the interval. */
function rootFrom(start: number, direction: 1 | -1, f: (x: number) => number): number {
  let step = 0.5;
  let inside = start;
  while (f(start + direction * step) <= 0) {
    inside = start + direction * step;
    step *= 2;
    if (step > 1e4) throw new RangeError("the score interval for the ratio has no finite limit");
  }
  // The start belongs to the interval, also where its variance is 0
  return findRoot((x) => (x === start ? -1 : f(x)), inside, start + direction * step);
}
