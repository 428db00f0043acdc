import { chiSquareTail } from "./chi-square-tail.ts";
import { checkStrata, mantelHaenszelOddsRatio } from "./mantel-haenszel.ts";
import type { TwoGroups } from "./two-groups.ts";

/** Test that one odds ratio fits all strata. The p-values are `null` with fewer than two informative strata. */
export interface BreslowDay {
  statistic: number;
  p: number | null;
  /** With Tarone's correction, which makes it an efficient score test */
  taroneStatistic: number;
  taroneP: number | null;
  degreesOfFreedom: number;
}

/**
 * Breslow-Day test of homogeneity of the odds ratio, without and with Tarone's correction.
 *
 * Strata without an event, or with nothing but events, tell nothing and are left out of the degrees of freedom. `null` where
 * the Mantel-Haenszel odds ratio does not exist.
 *
 * Source: Breslow N E, Day N E (1980) Statistical Methods in Cancer Research I, equation 4.30; Tarone R E (1985) Biometrika
 * 72:91-95.
 *
 * @throws RangeError for counts that cannot be, or without strata
 */
export function breslowDay(strata: readonly TwoGroups[]): BreslowDay | null {
  checkStrata(strata);
  const pooled = mantelHaenszelOddsRatio(strata, 0.5);
  if (pooled === null) return null;
  const informative = strata.filter(({ x1, n1, x2, n2 }) => x1 + x2 > 0 && x1 + x2 < n1 + n2);
  let statistic = 0;
  let departures = 0;
  let variances = 0;
  for (const stratum of informative) {
    const { expected, variance } = underOddsRatio(stratum, pooled.estimate);
    const departure = stratum.x1 - expected;
    statistic += (departure * departure) / variance;
    departures += departure;
    variances += variance;
  }
  const taroneStatistic = Math.max(0, statistic - (departures * departures) / variances);
  const degreesOfFreedom = informative.length - 1;
  const tail = (value: number) => (degreesOfFreedom > 0 ? chiSquareTail(value, degreesOfFreedom) : null);
  return {
    statistic,
    p: tail(statistic),
    taroneStatistic,
    taroneP: tail(taroneStatistic),
    degreesOfFreedom,
  };
}

/** Expected x1 and its variance, given the margins and an odds ratio. */
function underOddsRatio({ x1, n1, x2, n2 }: TwoGroups, oddsRatio: number) {
  const events = x1 + x2;
  // The smaller root of (ψ - 1) A² - [ψ (n1 + m) + n2 - m] A + ψ n1 m = 0, in the form that holds at ψ = 1 too
  const middle = oddsRatio * (n1 + events) + n2 - events;
  const product = oddsRatio * n1 * events;
  const expected = (2 * product) / (middle + Math.sqrt(middle * middle - 4 * (oddsRatio - 1) * product));
  const variance =
    1 / (1 / expected + 1 / (n1 - expected) + 1 / (events - expected) + 1 / (n2 - events + expected));
  return { expected, variance };
}
