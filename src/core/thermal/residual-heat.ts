/** A stretch of a specimen's past: a steady multiple of rated current (0 at rest) for so many seconds. Oldest first. */
export interface ThermalStretch {
  multiple: number;
  seconds: number;
}

/** Time constants of heating under current and of cooling at rest, seconds, and the pick-up multiple. */
export interface CoolingModel {
  heatingTauSeconds: number;
  coolingTauSeconds: number;
  pickup: number;
}

/**
 * Heat left from the past, as the steady multiple p of rated current that would keep it: the pre-load of a next shot. The
 * heat theta follows d theta / dt = (m^2 - theta) / tau, with one tau under current and another at rest, from theta = 0 at
 * ambient, and p = sqrt(theta). It is held at the pick-up: beyond it the specimen would have opened.
 *
 * Source: heat balance of a first-order element, as in IEC 60255-149 (memory of pre-load).
 *
 * @throws RangeError if a time constant or the pick-up is not positive, or a stretch has a negative number
 */
export function residualPreload(model: CoolingModel, past: readonly ThermalStretch[]): number {
  for (const [name, value] of Object.entries(model)) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new RangeError(`${name} must be above 0 but is ${value}`);
  }
  let theta = 0;
  for (const [index, { multiple, seconds }] of past.entries()) {
    if (!(multiple >= 0 && seconds >= 0)) {
      throw new RangeError(
        `stretch ${index + 1}: found multiple ${multiple} for ${seconds} s; both must be 0 or more`,
      );
    }
    const tau = multiple > 0 ? model.heatingTauSeconds : model.coolingTauSeconds;
    const target = multiple * multiple;
    theta = target + (theta - target) * Math.exp(-seconds / tau);
    theta = Math.min(theta, model.pickup ** 2);
  }
  return Math.sqrt(theta);
}
