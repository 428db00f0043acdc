import { findRoot } from "./find-root.ts";
import type { Interval } from "./interval.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/**
 * Score interval for the difference p1 - p2, with the factor N/(N - 1) in the variance.
 *
 * The limits are the differences d at which (p̂1 - p̂2 - d)² = z² V(d), V being the variance at the most likely pair of rates
 * that differ by d.
 *
 * Source: Miettinen O, Nurminen M (1985) Stat Med 4:213-226, equations 8 and 9; Newcombe R G (1998) Stat Med 17:873-890,
 * method 6.
 *
 * @throws RangeError for counts that cannot be, or a level outside (0, 1)
 */
export function miettinenNurminen(groups: TwoGroups, level: number): Interval {
  checkTwoGroups(groups);
  const z = twoSidedNormalQuantile(level);
  const { x1, n1, x2, n2 } = groups;
  const observed = x1 / n1 - x2 / n2;
  const factor = (n1 + n2) / (n1 + n2 - 1);
  const excess = (difference: number) => {
    // The observed difference belongs to its interval, also where its variance is 0
    if (difference === observed) return -1;
    const p2 = constrainedRate(groups, difference);
    const p1 = p2 + difference;
    const variance = factor * ((p1 * (1 - p1)) / n1 + (p2 * (1 - p2)) / n2);
    return (observed - difference) ** 2 - z * z * variance;
  };
  return {
    lower: observed === -1 ? -1 : findRoot(excess, -1, observed),
    upper: observed === 1 ? 1 : findRoot(excess, observed, 1),
  };
}

/** The second group's rate that maximises the likelihood when the first is larger by `difference`. */
function constrainedRate({ x1, n1, x2, n2 }: TwoGroups, difference: number): number {
  const low = Math.max(0, -difference);
  const high = Math.min(1, 1 - difference);
  const share = (count: number, rate: number) => (count === 0 ? 0 : count / Math.max(0, rate));
  const score = (p: number) =>
    share(x1, p + difference) + share(x2, p) - share(n1 - x1, 1 - p - difference) - share(n2 - x2, 1 - p);
  if (low >= high || score(low) <= 0) return low;
  if (score(high) >= 0) return high;
  return findRoot(score, low, high);
}
