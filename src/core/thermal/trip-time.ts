/** The thermal replica of one time constant: heating `tauSeconds`, ultimate trip multiple `pickup`. */
export interface ThermalModel {
  tauSeconds: number;
  /** Multiple of rated current at which it would only just trip, after infinite time. */
  pickup: number;
}

function checkModel(model: ThermalModel): void {
  if (!(model.tauSeconds > 0)) throw new RangeError(`Expected tau above 0 s but found ${model.tauSeconds}`);
  if (!(model.pickup > 0)) throw new RangeError(`Expected a pick-up above 0 but found ${model.pickup}`);
}

/**
 * Time to trip at a steady multiple m of rated current after a long pre-load at multiple p, in seconds:
 * t = tau ln((m^2 - p^2) / (m^2 - mt^2)). Infinity where m does not exceed the pick-up, 0 where the pre-load alone trips.
 *
 * Source: heat balance of a first-order element, as in IEC 60255-149 (formerly IEC 60255-8), cold curve for p = 0 and hot
 * curve with memory for p > 0. Checked against tests/core/thermal/trip-time.test.ts.
 *
 * @throws RangeError if tau or pick-up is not positive, or a multiple is negative
 */
export function tripSeconds(model: ThermalModel, multiple: number, preload = 0): number {
  checkModel(model);
  if (!(multiple >= 0)) throw new RangeError(`Expected a multiple of 0 or more but found ${multiple}`);
  if (!(preload >= 0)) throw new RangeError(`Expected a pre-load of 0 or more but found ${preload}`);
  if (preload >= model.pickup) return 0;
  if (multiple <= model.pickup) return Number.POSITIVE_INFINITY;
  const m2 = multiple * multiple;
  // ln((m2 - p2) / (m2 - mt2)) = log1p((mt2 - p2) / (m2 - mt2)), without loss for large m.
  const mt2 = model.pickup * model.pickup;
  return model.tauSeconds * Math.log1p((mt2 - preload * preload) / (m2 - mt2));
}
