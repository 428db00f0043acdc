import normal from "@stdlib/stats-base-dists-normal";

/** Upper tail of the standard normal, without the cancellation of 1 - P. */
const above = (z: number) => normal.cdf(-z, 0, 1);

/** Inputs of one conformance probability. Limits may be infinite; all four in one unit. */
export interface ConformanceInputs {
  y: number;
  u: number;
  T_L: number;
  T_U: number;
}

/**
 * Probability that a quantity lies within its tolerance, and that it does not, after one measurement `y` with standard
 * uncertainty `u`, under a normal state of knowledge and a flat prior. It is no probability that a breaker is safe.
 *
 * For an accepted item `p_nonconforming` is the specific consumer's risk, for a rejected one `p_c` is the specific producer's.
 * With u = 0 the answer is 0 or 1, limits included.
 *
 * Source: JCGM 106:2012, clause 7 (one and two limits, normal density) and clause 9 (risks).
 *
 * @throws RangeError if y is not finite, u is negative or not finite, or the limits are not in order
 */
export function conformance({ y, u, T_L, T_U }: ConformanceInputs): { p_c: number; p_nonconforming: number } {
  if (!Number.isFinite(y)) throw new RangeError(`y must be a finite number but is ${y}`);
  if (!(u >= 0 && Number.isFinite(u))) throw new RangeError(`u must be 0 or more but is ${u}`);
  if (!(T_L < T_U)) throw new RangeError(`T_L must be below T_U but they are ${T_L} and ${T_U}`);
  if (u === 0) {
    const inside = y >= T_L && y <= T_U;
    return { p_c: inside ? 1 : 0, p_nonconforming: inside ? 0 : 1 };
  }
  const low = (T_L - y) / u;
  const high = (T_U - y) / u;
  // Both limits on one side of y: the difference of the two small tails keeps its digits.
  const within = low > 0 ? above(low) - above(high) : normal.cdf(high, 0, 1) - normal.cdf(low, 0, 1);
  return { p_c: within, p_nonconforming: normal.cdf(low, 0, 1) + above(high) };
}
