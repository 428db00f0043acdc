import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/** Ratio p1 / p2. `null` means that it, or its interval, is not estimable. */
export interface RelativeRisk {
  estimate: number | null;
  lower: number | null;
  upper: number | null;
}

/**
 * Relative risk with the log interval of Katz; nothing is added to the cells, and without an event in each group there is no
 * interval: use the score interval then.
 *
 * Source: Katz D, Baptista J, Azen S P, Pike M C (1978) Biometrics 34:469-474, method C.
 *
 * @throws RangeError for counts that cannot be, or a level outside (0, 1)
 */
export function katzRelativeRisk(groups: TwoGroups, level: number): RelativeRisk {
  checkTwoGroups(groups);
  const z = twoSidedNormalQuantile(level);
  const { x1, n1, x2, n2 } = groups;
  if (x1 === 0 && x2 === 0) return { estimate: null, lower: null, upper: null };
  const estimate = x1 / n1 / (x2 / n2);
  if (x1 === 0 || x2 === 0) return { estimate, lower: null, upper: null };
  // 1/x - 1/n of each group, without cancellation
  const standardError = Math.sqrt((n1 - x1) / x1 / n1 + (n2 - x2) / x2 / n2);
  return {
    estimate,
    lower: estimate * Math.exp(-z * standardError),
    upper: estimate * Math.exp(z * standardError),
  };
}
