import { type CoolingModel, residualPreload, type ThermalStretch } from "./residual-heat.ts";
import { tripSeconds } from "./trip-time.ts";

/** Whether a specimen counts as cold for a shot, how far from it, and how long until it is. */
export interface Coldness {
  verdict: "cold" | "not cold";
  /** Pre-load that the heat left equals, as a multiple of rated current. */
  preload: number;
  /** By how much the shot would come too early, as a part of its cold trip time: 0 for cold. */
  shortening: number;
  /** Further rest until it counts as cold, seconds; 0 where it does. */
  secondsUntilCold: number;
}

/** Shortening of the trip time up to which a specimen counts as cold: one hundredth, our own choice. */
export const coldShortening = 0.01;

/**
 * Decides whether a specimen is cold enough for a shot at `multiple`: heat left from its past must not shorten the trip time
 * by more than one hundredth, by the trip model. At or below the pick-up, where there is no trip time, the pre-load itself
 * must not exceed a tenth of rated current.
 */
export function coldness(model: CoolingModel, past: readonly ThermalStretch[], multiple: number): Coldness {
  const preload = residualPreload(model, past);
  const allowed = allowedPreload(model.pickup, multiple);
  const shortening = multiple > model.pickup ? 1 - timeShare(model.pickup, multiple, preload) : 0;
  if (preload <= allowed) return { verdict: "cold", preload, shortening, secondsUntilCold: 0 };
  // theta falls as exp(-t / tau), and the pre-load is its square root.
  const secondsUntilCold = 2 * model.coolingTauSeconds * Math.log(preload / allowed);
  return { verdict: "not cold", preload, shortening, secondsUntilCold };
}

/** Trip time after a pre-load over the cold trip time. */
function timeShare(pickup: number, multiple: number, preload: number): number {
  const model = { tauSeconds: 1, pickup };
  return tripSeconds(model, multiple, preload) / tripSeconds(model, multiple);
}

/** Largest pre-load at which the trip time is at most one hundredth shorter: from 1 - t/t0 = coldShortening, solved for p. */
function allowedPreload(pickup: number, multiple: number): number {
  if (multiple <= pickup) return 0.1;
  const m2 = multiple * multiple;
  const cold = Math.log1p((pickup * pickup) / (m2 - pickup * pickup));
  return Math.sqrt(m2 * -Math.expm1(-coldShortening * cold));
}
