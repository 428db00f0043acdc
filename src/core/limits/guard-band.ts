import { findRoot } from "../stats/find-root.ts";
import { normalQuantile } from "../stats/normal-quantile.ts";
import { conformance } from "./conformity.ts";

/** Wanted probability of conformity and standard uncertainty; with both limits also the two-sided interval. */
export interface GuardBandInputs {
  p_c: number;
  u: number;
  T_L?: number;
  T_U?: number;
}

/**
 * The guard band that holds the probability of conformity at `p_c` or more for whatever is accepted.
 *
 * One-sided: g = z u with z the normal quantile of p_c; `r` is g over the expanded uncertainty U = 2 u. With both limits
 * given and finite, `acceptance` is the interval in which the two-sided probability reaches p_c, both tails counted; null
 * where even the middle does not.
 *
 * Source: JCGM 106:2012, clause 8 (guarded acceptance) with clause 7; ILAC-G8:09/2019 for r.
 *
 * @throws RangeError if p_c is not in (0, 1), u is not positive, one limit is given alone, or the limits are not in order
 */
export function guardBand({ p_c, u, T_L, T_U }: GuardBandInputs): {
  z: number;
  g: number;
  r: number;
  acceptance?: [number, number] | null;
} {
  if (!(u > 0 && Number.isFinite(u))) throw new RangeError(`u must be positive but is ${u}`);
  // The smaller tail keeps the digits of a p_c near 1.
  const z = p_c > 0.5 ? -normalQuantile(1 - p_c) : normalQuantile(p_c);
  const oneSided = { z, g: z * u, r: z / 2 };
  if (T_L === undefined && T_U === undefined) return oneSided;
  if (T_L === undefined || T_U === undefined)
    throw new RangeError("T_L and T_U must both be given, or neither");
  if (!(T_L < T_U && Number.isFinite(T_U - T_L)))
    throw new RangeError(`T_L must be below T_U and both finite but they are ${T_L} and ${T_U}`);
  const excess = (y: number) => conformance({ y, u, T_L, T_U }).p_c - p_c;
  const middle = T_L + (T_U - T_L) / 2;
  if (excess(middle) < 0) return { ...oneSided, acceptance: null };
  // Below one half the acceptance reaches beyond the limits; p_c falls to nothing 40 u outside.
  const lower = findRoot(excess, T_L - 40 * u, middle);
  return { ...oneSided, acceptance: [lower, T_L + (T_U - lower)] };
}
