import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/** Sample odds ratio. `null` means that it, or its interval, is not estimable from the table. */
export interface SampleOddsRatio {
  estimate: number | null;
  logEstimate: number | null;
  /** Infinity where a cell is empty */
  standardError: number;
  lower: number | null;
  upper: number | null;
}

/**
 * Sample odds ratio with Woolf's logit interval; nothing is added to the cells.
 *
 * With an empty cell the ratio is 0, Infinity or undefined and there is no interval: use the exact conditional one then.
 *
 * Source: Woolf B (1955) Ann Hum Genet 19:251-253.
 *
 * @throws RangeError for counts that cannot be, or a level outside (0, 1)
 */
export function woolfOddsRatio(groups: TwoGroups, level: number): SampleOddsRatio {
  checkTwoGroups(groups);
  const z = twoSidedNormalQuantile(level);
  const { x1, n1, x2, n2 } = groups;
  const above = x1 * (n2 - x2);
  const below = (n1 - x1) * x2;
  const estimate = above === 0 && below === 0 ? null : above / below;
  const logEstimate = estimate === null ? null : Math.log(estimate);
  const standardError = Math.sqrt(1 / x1 + 1 / (n1 - x1) + 1 / x2 + 1 / (n2 - x2));
  const known = logEstimate !== null && Number.isFinite(standardError);
  return {
    estimate,
    logEstimate,
    standardError,
    lower: known ? Math.exp(logEstimate - z * standardError) : null,
    upper: known ? Math.exp(logEstimate + z * standardError) : null,
  };
}
