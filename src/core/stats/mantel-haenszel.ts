import { chiSquareTail } from "./chi-square-tail.ts";
import type { Interval } from "./interval.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/** A chi-square statistic with its p-value. */
export interface ChiSquareTest {
  statistic: number;
  p: number;
}

/** Test that the rates of two groups agree within every stratum, plain and with continuity correction. */
export interface MantelHaenszelTest {
  plain: ChiSquareTest;
  corrected: ChiSquareTest;
}

/**
 * Cochran-Mantel-Haenszel test over strata of two groups each.
 *
 * The correction takes 1/2 from the absolute departure, but not more than there is. `null` where no stratum has both events
 * and non-events.
 *
 * Source: Mantel N, Haenszel W (1959) J Natl Cancer Inst 22:719-748; Agresti A (2013) Categorical Data Analysis, 3rd ed.,
 * equation 6.5 (from memory).
 *
 * @throws RangeError for counts that cannot be, or without strata
 */
export function mantelHaenszelTest(strata: readonly TwoGroups[]): MantelHaenszelTest | null {
  checkStrata(strata);
  let departure = 0;
  let variance = 0;
  for (const { x1, n1, x2, n2 } of strata) {
    const total = n1 + n2;
    const events = x1 + x2;
    departure += (x1 * n2 - x2 * n1) / total;
    variance += (((n1 / total) * (n2 / total) * events) / (total - 1)) * (total - events);
  }
  if (variance === 0) return null;
  const test = (distance: number): ChiSquareTest => {
    const statistic = (distance * distance) / variance;
    return { statistic, p: chiSquareTail(statistic, 1) };
  };
  const distance = Math.abs(departure);
  return { plain: test(distance), corrected: test(Math.max(0, distance - 0.5)) };
}

/** Pooled odds ratio with its interval. */
export interface PooledOddsRatio extends Interval {
  estimate: number;
}

/**
 * Mantel-Haenszel odds ratio over strata, with the interval of Robins, Breslow and Greenland.
 *
 * `null` where every stratum's cross product is 0 on one side, so that the ratio would be 0, Infinity or undefined and its
 * variance does not exist.
 *
 * Source: Robins J, Breslow N, Greenland S (1986) Biometrics 42:311-323.
 *
 * @throws RangeError for counts that cannot be, without strata, or a level outside (0, 1)
 */
export function mantelHaenszelOddsRatio(strata: readonly TwoGroups[], level: number): PooledOddsRatio | null {
  checkStrata(strata);
  const z = twoSidedNormalQuantile(level);
  const sums = { r: 0, s: 0, pr: 0, mixed: 0, qs: 0 };
  for (const { x1, n1, x2, n2 } of strata) {
    const total = n1 + n2;
    const p = (x1 + n2 - x2) / total;
    const q = (n1 - x1 + x2) / total;
    const r = (x1 / total) * (n2 - x2);
    const s = ((n1 - x1) / total) * x2;
    sums.r += r;
    sums.s += s;
    sums.pr += p * r;
    sums.mixed += p * s + q * r;
    sums.qs += q * s;
  }
  if (sums.r === 0 || sums.s === 0) return null;
  const estimate = sums.r / sums.s;
  const variance =
    sums.pr / (2 * sums.r * sums.r) + sums.mixed / (2 * sums.r * sums.s) + sums.qs / (2 * sums.s * sums.s);
  const reach = z * Math.sqrt(variance);
  return { estimate, lower: estimate * Math.exp(-reach), upper: estimate * Math.exp(reach) };
}

/** Refuse an empty list of strata, or counts that cannot be, naming the stratum. @throws RangeError */
export function checkStrata(strata: readonly TwoGroups[]): void {
  if (strata.length === 0) throw new RangeError("strata must be one or more but there are none");
  for (const [index, stratum] of strata.entries()) checkTwoGroups(stratum, `stratum ${index + 1}, `);
}
