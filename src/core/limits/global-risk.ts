import normal from "@stdlib/stats-base-dists-normal";
import { integrateOverPanels } from "./_integrate-over-panels.ts";

/**
 * What is known of the items before any is measured (normal, mean `x0`, standard deviation `u0`), the standard uncertainty
 * `u_m` of the measurement, the tolerance limits and the acceptance limits. Limits may be infinite; all in one unit.
 */
export interface GlobalRiskInputs {
  x0: number;
  u0: number;
  u_m: number;
  T_L: number;
  T_U: number;
  A_L: number;
  A_U: number;
}

/** Probabilities for an item drawn at random, before it is measured. */
export interface GlobalRisk {
  /** Does not conform, and is accepted. */
  global_consumer_risk: number;
  /** Conforms, and is rejected. */
  global_producer_risk: number;
  p_conforming: number;
  p_accepted: number;
}

/** Probability of a normal variable between two limits, on the side where its tails are small. */
function normalBetween(low: number, high: number, mean: number, deviation: number): number {
  const from = (low - mean) / deviation;
  const to = (high - mean) / deviation;
  return from > 0
    ? normal.cdf(-from, 0, 1) - normal.cdf(-to, 0, 1)
    : normal.cdf(to, 0, 1) - normal.cdf(from, 0, 1);
}

/**
 * Global consumer's and producer's risk of a measurement with an acceptance interval, normal prior and normal error.
 *
 * The inner integral over the measured value is a difference of normal probabilities; the outer one, over the true value, is
 * taken by Gauss-Legendre quadrature on panels no wider than half the standard deviation of what varies there.
 *
 * Source: JCGM 106:2012, clause 9 (global risks).
 *
 * @throws RangeError if a deviation is not positive, the mean is not finite, or limits are not in order
 */
export function globalRisk({ x0, u0, u_m, T_L, T_U, A_L, A_U }: GlobalRiskInputs): GlobalRisk {
  if (!Number.isFinite(x0)) throw new RangeError(`x0 must be a finite number but is ${x0}`);
  for (const [name, value] of Object.entries({ u0, u_m }))
    if (!(value > 0 && Number.isFinite(value)))
      throw new RangeError(`${name} must be positive but is ${value}`);
  if (!(T_L < T_U)) throw new RangeError(`T_L must be below T_U but they are ${T_L} and ${T_U}`);
  if (!(A_L < A_U)) throw new RangeError(`A_L must be below A_U but they are ${A_L} and ${A_U}`);

  const density = (x: number) => Math.exp(-0.5 * ((x - x0) / u0) ** 2) / (u0 * Math.sqrt(2 * Math.PI));
  const accepted = (x: number) => density(x) * normalBetween(A_L, A_U, x, u_m);
  const rejected = (x: number) =>
    density(x) *
    (normalBetween(Number.NEGATIVE_INFINITY, A_L, x, u_m) +
      normalBetween(A_U, Number.POSITIVE_INFINITY, x, u_m));
  // Beyond 39 deviations a normal density is less than the smallest number.
  const bends: number[] = [];
  for (let step = -78; step <= 78; step += 1) {
    bends.push(x0 + (step / 2) * u0, A_L + (step / 2) * u_m, A_U + (step / 2) * u_m);
  }
  const everything = { low: x0 - 39 * u0, high: x0 + 39 * u0 };
  return {
    global_consumer_risk:
      integrateOverPanels(accepted, everything.low, Math.min(T_L, everything.high), bends) +
      integrateOverPanels(accepted, Math.max(T_U, everything.low), everything.high, bends),
    global_producer_risk: integrateOverPanels(
      rejected,
      Math.max(T_L, everything.low),
      Math.min(T_U, everything.high),
      bends,
    ),
    p_conforming: normalBetween(T_L, T_U, x0, u0),
    p_accepted: normalBetween(A_L, A_U, x0, Math.hypot(u0, u_m)),
  };
}
