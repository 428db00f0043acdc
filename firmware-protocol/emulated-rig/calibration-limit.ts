/**
 * Longest time in seconds that UL 489 allows a breaker of this rating to carry twice its rated current.
 *
 * Here it only sets the pace of invented breakers, so that a sound one is sound at every rating; verdicts come from the
 * limit sets in `curves/`. Values: up to 30 A seen second-hand, all others from memory of UL 489's 200 % calibration
 * table, to be checked against the document.
 *
 * @throws RangeError for a rating that is not above 0 A and at most 10000 A
 */
export function longestSecondsAtTwiceRated(ratedAmps: number): number {
  if (!(ratedAmps > 0 && ratedAmps <= 10_000))
    throw new RangeError(`rated current must be above 0 A and at most 10000 A, found ${ratedAmps}`);
  const row = rows.find(([upToAmps]) => ratedAmps <= upToAmps);
  return (row ?? lastRow)[1];
}

const lastRow: readonly [number, number] = [Number.POSITIVE_INFINITY, 1800];

/** Rated current up to and including, A; time, s. */
const rows: readonly (readonly [number, number])[] = [
  [30, 120],
  [50, 240],
  [100, 360],
  [150, 480],
  [225, 600],
  [400, 720],
  [600, 840],
  [800, 960],
  [1000, 1080],
  [1200, 1200],
  [1600, 1320],
  [2000, 1440],
  [2500, 1560],
  [5000, 1680],
];
