/**
 * The times at the measured current plus and minus its uncertainty, mapped through a model scaled to pass through the
 * observed time. Exact for a falling curve where a slope is too coarse: near the pick-up.
 *
 * @param multiple measured current over rating
 * @param relative uncertainty of the current, as a fraction
 * @param timeAt the model, up to a constant factor; Infinity where it never trips
 * @returns `lower` at the higher current, `upper` at the lower one: Infinity where the model never trips there
 * @throws RangeError if the model gives no time at `multiple`, or `relative` is negative or 1 or more
 */
export function mapEndPoints(
  seconds: number,
  multiple: number,
  relative: number,
  timeAt: (multiple: number) => number,
): { lower: number; upper: number } {
  if (!(relative >= 0 && relative < 1)) {
    throw new RangeError(`expected a relative uncertainty from 0 to below 1 but found ${relative}`);
  }
  const here = timeAt(multiple);
  if (!(here > 0 && Number.isFinite(here))) {
    throw new RangeError(`expected the model to give a time at multiple ${multiple} but found ${here}`);
  }
  const scale = seconds / here;
  return {
    lower: scale * timeAt(multiple * (1 + relative)),
    upper: scale * timeAt(multiple * (1 - relative)),
  };
}
