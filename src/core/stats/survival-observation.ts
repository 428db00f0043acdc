/** A time to an event, or the time to which a specimen was watched without it. */
export interface SurvivalObservation {
  time: number;
  /** False where watching ended first (right-censored) */
  event: boolean;
}

/** Refuse an empty list and times that are negative or not finite. @throws RangeError naming the observation by its place */
export function checkObservations(observations: readonly SurvivalObservation[]): void {
  if (observations.length === 0) throw new RangeError("observations must be one or more but there are none");
  for (const [index, { time }] of observations.entries()) {
    if (!(time >= 0 && time < Number.POSITIVE_INFINITY)) {
      throw new RangeError(
        `observation ${index + 1}: time must be a finite number of 0 or more but is ${time}`,
      );
    }
  }
}
