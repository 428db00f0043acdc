import type { Interval } from "./interval.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";
import { wilson } from "./wilson.ts";

/**
 * Hybrid score interval for the difference p1 - p2, from the Wilson limits of each.
 *
 * Source: Newcombe R G (1998) Stat Med 17:873-890, method 10.
 *
 * @throws RangeError for counts that cannot be, or a level outside (0, 1)
 */
export function newcombeDifference(groups: TwoGroups, level: number): Interval {
  checkTwoGroups(groups);
  const { x1, n1, x2, n2 } = groups;
  const p1 = x1 / n1;
  const p2 = x2 / n2;
  const first = wilson(x1, n1, level);
  const second = wilson(x2, n2, level);
  return {
    lower: p1 - p2 - Math.hypot(p1 - first.lower, second.upper - p2),
    upper: p1 - p2 + Math.hypot(first.upper - p1, p2 - second.lower),
  };
}
