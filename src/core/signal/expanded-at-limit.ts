import { tripUncertainty } from "./_trip-uncertainty.ts";
import type { ReadingContext } from "./reading-context.ts";
import type { SensitivityModel } from "./sensitivity.ts";

/**
 * Expanded uncertainty, in seconds, that a trip at a limit would have: the guard band of a shot that did not trip, and what is
 * known of it before the shot. Onset and opening are each taken as known within one cycle of the line.
 *
 * @param multiple current over rating at which the trip would come
 * @returns null where the model says nothing at that multiple, below its pick-up
 * @throws RangeError if `limitSeconds` or `lineHz` is not above zero
 */
export function expandedAtLimit(
  limitSeconds: number,
  multiple: number,
  basis: ReadingContext["basis"],
  sensitivity: SensitivityModel,
  lineHz: number,
): number | null {
  for (const [name, value] of Object.entries({ limitSeconds, lineHz })) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new RangeError(`expected ${name} to be above zero but found ${value}`);
  }
  const at = sensitivity(multiple, limitSeconds);
  if (at === null) return null;
  const withinCycle = (seconds: number) => ({
    lower: seconds - 0.5 / lineHz,
    upper: seconds + 0.5 / lineHz,
    point: seconds,
  });
  return tripUncertainty(limitSeconds, multiple, withinCycle(0), withinCycle(limitSeconds), at, basis)
    .expanded;
}
