import { roundSignificant } from "../units/round.ts";
import { combine, coverageFactor } from "./gum.ts";
import type { BudgetLine, TimeUncertainty } from "./reading.ts";

/** One input of a budget, before anything is worked out. `degreesOfFreedom` null is infinitely many. */
export type Contribution = Omit<BudgetLine, "seconds" | "share">;

/** Coverage for which k is 2 under a normal distribution, as accredited laboratories state it (EA-4/02). */
export const coverageProbability = 0.9545;

/** Divisors that turn a half-width into a standard uncertainty. Source: JCGM 100:2008, 4.3.7, 4.3.9; EA-4/02. */
export const divisors = {
  rectangular: Math.sqrt(3),
  triangular: Math.sqrt(6),
  "u-shaped": Math.SQRT2,
} as const;

/**
 * An uncertainty budget as a table: each contribution with its standard uncertainty and its share of the variance, the
 * combined standard uncertainty, effective degrees of freedom, k and expanded uncertainty.
 *
 * k is 2 where the degrees of freedom are infinite, else the t quantile at 95.45 % for the next lower whole number.
 * Source: JCGM 100:2008, 5.1.2, G.4.1, G.6.4; EA-4/02. Values are rounded to 12 significant digits.
 *
 * @param model in words, what gave the sensitivities
 * @throws RangeError if there is no contribution, or one is negative, not finite or has a divisor of zero or less
 */
export function uncertaintyBudget(contributions: readonly Contribution[], model: string): TimeUncertainty {
  const seconds = contributions.map(standardSeconds);
  const freedoms = contributions.map((one) => one.degreesOfFreedom ?? Number.POSITIVE_INFINITY);
  const gum = combine({
    contributions: seconds,
    degrees_of_freedom: freedoms,
    coverage_probability: coverageProbability,
  });
  const infinite = gum.nu_eff_truncated === Number.POSITIVE_INFINITY;
  const k = infinite ? 2 : roundSignificant(coverageFactor(gum.nu_eff_truncated, coverageProbability));
  const standard = roundSignificant(gum.u_c);
  return {
    standard,
    expanded: roundSignificant(k * standard),
    k,
    effectiveDegreesOfFreedom: infinite ? null : gum.nu_eff_truncated,
    budget: contributions.map((one, i) => line(one, seconds[i] ?? 0, gum.u_c)),
    model,
  };
}

function standardSeconds(one: Contribution): number {
  if (!(one.divisor > 0)) {
    throw new RangeError(`${one.contribution}: expected a divisor above zero but found ${one.divisor}`);
  }
  const seconds = Math.abs(one.sensitivity) * (one.value / one.divisor);
  if (!(Number.isFinite(seconds) && seconds >= 0)) {
    throw new RangeError(
      `${one.contribution}: expected a value of zero or more and a finite sensitivity but found ${one.value} and ${one.sensitivity}`,
    );
  }
  return seconds;
}

function line(one: Contribution, seconds: number, combined: number): BudgetLine {
  return {
    ...one,
    value: roundSignificant(one.value),
    divisor: roundSignificant(one.divisor),
    sensitivity: roundSignificant(one.sensitivity),
    seconds: roundSignificant(seconds),
    share: combined === 0 ? 0 : roundSignificant((seconds / combined) ** 2),
  };
}
