/**
 * What is known of a time to an event: it lies above `lower` and at or below `upper`; it is exactly known where the two are
 * equal.
 *
 * `lower` 0 is a left-censored time, `upper` Infinity a right-censored one.
 */
export interface EventInterval {
  lower: number;
  upper: number;
}

/** Refuse an empty list and bounds that hold no positive time. @throws RangeError naming the observation by its place */
export function checkEventIntervals(intervals: readonly EventInterval[]): void {
  if (intervals.length === 0) throw new RangeError("observations must be one or more but there are none");
  for (const [index, { lower, upper }] of intervals.entries()) {
    if (!(lower >= 0 && lower < Number.POSITIVE_INFINITY && upper > 0 && upper >= lower)) {
      throw new RangeError(
        `observation ${index + 1}: 0 <= lower <= upper with a finite lower and an upper above 0 are needed but found ${lower} and ${upper}`,
      );
    }
  }
}
