import { checkObservations, type SurvivalObservation } from "./survival-observation.ts";

/** The curve just after one time at which events happened. */
export interface SurvivalStep {
  time: number;
  /** Watched, without event, just before this time; those censored at it included */
  atRisk: number;
  events: number;
  /** Probability of no event up to and including this time */
  survival: number;
  /** Greenwood's standard error of ln(survival); infinite where survival is 0 */
  logError: number;
}

/** Kaplan-Meier curve: 1 before the first step, and not known after `lastTime`. */
export interface SurvivalCurve {
  /** In order of time; empty where nothing happened */
  steps: SurvivalStep[];
  /** The longest time watched */
  lastTime: number;
}

/**
 * Product-limit estimate of the probability of no event up to each time.
 *
 * Times are tied where they are equal as numbers; an event at the time of a censoring comes first. O(n log n).
 *
 * Source: Kaplan E L, Meier P (1958) JASA 53:457-481, eq. 2b; Greenwood M (1926) The natural duration of cancer, appendix
 * (variance).
 *
 * @throws RangeError for no observations, or a time that is negative or not finite
 */
export function kaplanMeier(observations: readonly SurvivalObservation[]): SurvivalCurve {
  checkObservations(observations);
  const times = new Float64Array(observations.length);
  const eventSlots = new Float64Array(observations.length);
  let seen = 0;
  for (let index = 0; index < observations.length; index += 1) {
    const { time, event } = observations[index] as SurvivalObservation;
    times[index] = time;
    if (event) eventSlots[seen++] = time;
  }
  const eventTimes = eventSlots.subarray(0, seen).sort();
  times.sort();
  const steps: SurvivalStep[] = [];
  let survival = 1;
  let logVariance = 0;
  let before = 0;
  for (let next = 0; next < eventTimes.length; ) {
    const time = eventTimes[next] as number;
    const first = next;
    while (next < eventTimes.length && eventTimes[next] === time) next += 1;
    while ((times[before] as number) < time) before += 1;
    const events = next - first;
    const atRisk = times.length - before;
    survival *= (atRisk - events) / atRisk;
    logVariance += events / atRisk / (atRisk - events);
    steps.push({ time, atRisk, events, survival, logError: Math.sqrt(logVariance) });
  }
  return { steps, lastTime: times[times.length - 1] as number };
}
