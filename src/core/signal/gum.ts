import normal from "@stdlib/stats-base-dists-normal";
import student from "@stdlib/stats-base-dists-t";

/** Standard uncertainties already multiplied by their sensitivities, with their degrees of freedom (Infinity for none). */
export interface GumInput {
  contributions: readonly number[];
  degrees_of_freedom: readonly number[];
  coverage_probability: number;
}

/** Infinity where every contribution has infinitely many degrees of freedom, or none contributes. */
export interface GumOutput {
  u_c: number;
  nu_eff: number;
  nu_eff_truncated: number;
  k_truncated: number;
  U_truncated: number;
}

/**
 * Combined standard uncertainty of independent contributions, effective degrees of freedom (Welch-Satterthwaite), and the
 * expanded uncertainty with the two-sided t quantile at the next lower whole number of degrees of freedom.
 *
 * Source: JCGM 100:2008 (GUM), 5.1.2 eq. (10), G.4.1 eq. (G.2b), G.6.4.
 *
 * @throws RangeError if the two lists differ in length or are empty, a contribution is negative or not finite, a degree of
 * freedom is below 1, or the coverage probability lies outside (0, 1)
 * @example
 * ```ts
 * combine({ contributions: [3, 4], degrees_of_freedom: [Infinity, Infinity], coverage_probability: 0.95 }).u_c; // 5
 * ```
 */
export function combine(input: GumInput): GumOutput {
  const { contributions, degrees_of_freedom: freedoms, coverage_probability: coverage } = input;
  check(contributions, freedoms, coverage);
  // Scaled by the largest, so that fourth powers of nanometres neither vanish nor overflow.
  const largest = Math.max(...contributions);
  let variance = 0;
  let fourth = 0;
  for (const [i, contribution] of contributions.entries()) {
    const part = largest === 0 ? 0 : contribution / largest;
    variance += part * part;
    fourth += part ** 4 / (freedoms[i] ?? Number.POSITIVE_INFINITY);
  }
  const combined = largest * Math.sqrt(variance);
  const effective = fourth === 0 ? Number.POSITIVE_INFINITY : (variance * variance) / fourth;
  // Rounding of the sums must not turn 10 into 9; a real 18.9987 still becomes 18.
  const truncated = Math.max(1, Math.floor(effective * (1 + 1e-12)));
  const factor = coverageFactor(truncated, coverage);
  return {
    u_c: combined,
    nu_eff: effective,
    nu_eff_truncated: truncated,
    k_truncated: factor,
    U_truncated: factor * combined,
  };
}

/**
 * The k of a two-sided interval that holds `coverage` of a t distribution with so many degrees of freedom, Infinity allowed.
 * Source: JCGM 100:2008, G.3.4.
 */
export function coverageFactor(degreesOfFreedom: number, coverage: number): number {
  const p = 0.5 + coverage / 2;
  return degreesOfFreedom === Number.POSITIVE_INFINITY
    ? normal.quantile(p, 0, 1)
    : student.quantile(p, degreesOfFreedom);
}

function check(contributions: readonly number[], freedoms: readonly number[], coverage: number): void {
  if (contributions.length === 0) throw new RangeError("expected at least one contribution but found none");
  if (contributions.length !== freedoms.length) {
    throw new RangeError(
      `expected one degree of freedom for each of ${contributions.length} contributions but found ${freedoms.length}`,
    );
  }
  for (const [i, value] of contributions.entries()) {
    if (!(Number.isFinite(value) && value >= 0)) {
      throw new RangeError(`expected contribution ${i + 1} to be zero or more but found ${value}`);
    }
  }
  for (const [i, value] of freedoms.entries()) {
    if (!(value >= 1))
      throw new RangeError(`expected degrees of freedom ${i + 1} to be 1 or more but found ${value}`);
  }
  if (!(coverage > 0 && coverage < 1)) {
    throw new RangeError(`expected a coverage probability between 0 and 1 but found ${coverage}`);
  }
}
