import { findRootAround } from "./find-root-around.ts";
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
  const excess = (logRatio: number) => {
    const ratio = Math.exp(logRatio);
    const p2 = constrainedRate(groups, ratio);
    const p1 = ratio * p2;
    const variance = (p1 * Math.max(0, 1 - p1)) / n1 + (ratio * ratio * p2 * (1 - p2)) / n2;
    return (x1 / n1 - ratio * (x2 / n2)) ** 2 - z * z * variance;
  };
  // The observed ratio belongs to its interval, also where its variance is 0
  const observed = Math.log(x1 / n1) - Math.log(x2 / n2);
  const above = (logRatio: number) => (logRatio <= observed ? -1 : excess(logRatio));
  const notBelow = (logRatio: number) => (logRatio >= observed ? 1 : -excess(logRatio));
  const start = Math.log((x1 + 0.5) / (n1 + 1)) - Math.log((x2 + 0.5) / (n2 + 1));
  return {
    lower: x1 === 0 ? 0 : Math.exp(findRootAround(notBelow, start, 0.5)),
    upper: x2 === 0 ? Number.POSITIVE_INFINITY : Math.exp(findRootAround(above, start, 0.5)),
  };
}

/** The second group's rate that maximises the likelihood when the first is `ratio` times as large. */
function constrainedRate({ x1, n1, x2, n2 }: TwoGroups, ratio: number): number {
  const first = ratio * (n1 + x2);
  const second = x1 + n2;
  const root = Math.sqrt((first - second) ** 2 + 4 * ratio * (n1 - x1) * (n2 - x2));
  return (2 * (x1 + x2)) / (first + second + root);
}
