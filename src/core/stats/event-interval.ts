/**
 * What is known of a time to an event: it lies above `lower` and at or below `upper`; it is exactly known where the two are
 * equal.
 *
 * `lower` -Infinity is a left-censored time (0 too, for a model of positive times), `upper` Infinity a right-censored one.
 */
export interface EventInterval {
  lower: number;
  upper: number;
}

/** Refuse an empty list and bounds that hold no positive time. @throws RangeError naming the observation by its place */
export function checkEventIntervals(intervals: readonly EventInterval[]): void {
  if (intervals.length === 0) throw new RangeError("observations must be one or more but there are none");
  for (const [index, { lower, upper }] of intervals.entries()) {
    const lowerHolds = lower === Number.NEGATIVE_INFINITY || (lower >= 0 && lower < Number.POSITIVE_INFINITY);
    if (!(lowerHolds && upper > 0 && upper >= lower)) {
      throw new RangeError(
        `observation ${index + 1}: 0 <= lower <= upper with a finite (or -infinite) lower and an upper above 0 are needed but found ${lower} and ${upper}`,
      );
    }
  }
}
