import { sampleAt, type Timeline, type WindowedSample } from "./_timeline.ts";
import { flowFraction } from "./reading-context.ts";
import type { ShotEvent } from "./shot-signal.ts";

/** Where current began or ended: the interval in which that must lie, and the best point in it. Microseconds. */
export interface Edge {
  lowerUs: number;
  /** Infinity where nothing bounds it. */
  upperUs: number;
  pointUs: number;
  /** True where a sample with current and one without lie side by side. */
  adjacent: boolean;
}

/** The stretch of samples over which current flowed. */
export interface Flow {
  /** Indices of the first and the last sample with current. */
  first: number;
  last: number;
  /** Null where the recording begins with current flowing and no event tells of its onset. */
  onset: Edge | null;
  end: Edge;
  /** Current was seen to flow from here to there, whatever is missing outside. */
  firstSeenUs: number;
  lastSeenUs: number;
  /** True where an event of the rig contradicts the samples. */
  eventsDisagree: boolean;
}

/**
 * What a window without flow can hide at its edge, as a fraction of it. With half the target or more flowing, and with the
 * current's zero crossing at the least favourable place of a half-cycle window, its RMS stays below a tenth of the target for
 * up to 0.19 of it; a quarter leaves room for noise.
 */
const hiddenFraction = 0.25;

/** By how many windows a rig's event may be late: firmware may decide on whole windows. */
export const lateWindows = 2;

/** Finds the flow of current in a timeline; null where no sample reaches a tenth of the target. */
export function flowOf(
  timeline: Timeline,
  events: readonly ShotEvent[],
  targetMilliamps: number,
): Flow | null {
  const threshold = targetMilliamps * flowFraction;
  const { milliamps } = timeline;
  const first = milliamps.findIndex((value) => value >= threshold);
  const last = milliamps.findLastIndex((value) => value >= threshold);
  const opening = sampleAt(timeline, first);
  const closing = sampleAt(timeline, last);
  if (opening === undefined || closing === undefined) return null;

  // A window wholly inside the on-time tells what a full window reads.
  const whole = last - first >= 2;
  const firstFull = whole ? (milliamps[first + 1] ?? targetMilliamps) : targetMilliamps;
  const lastFull = whole ? (milliamps[last - 1] ?? targetMilliamps) : targetMilliamps;
  const firstSeenUs = opening.endUs - energyShare(opening, firstFull) * opening.stepUs;
  const lastSeenUs = closing.startUs + energyShare(closing, lastFull) * closing.stepUs;

  const onset = onsetEdge(timeline, first, opening, firstSeenUs, events);
  const end = endEdge(timeline, last, closing, lastSeenUs, events);
  return {
    first,
    last,
    onset: onset.edge,
    end: end.edge,
    firstSeenUs,
    lastSeenUs: Math.max(lastSeenUs, firstSeenUs),
    eventsDisagree: onset.disagree || end.disagree,
  };
}

/** The part of a window over which current flowed, from its energy against that of a full window. */
function energyShare(sample: WindowedSample, fullMilliamps: number): number {
  return Math.min(1, (sample.milliamps / fullMilliamps) ** 2);
}

function onsetEdge(
  timeline: Timeline,
  first: number,
  sample: WindowedSample,
  seenUs: number,
  events: readonly ShotEvent[],
): { edge: Edge | null; disagree: boolean } {
  const event = events.find((one) => one.kind === "onset");
  const before = sampleAt(timeline, first - 1);
  if (before === undefined) {
    if (event === undefined) return { edge: null, disagree: false };
    if (event.atUs > sample.endUs + lateWindows * sample.stepUs) return { edge: null, disagree: true };
    const earliestUs = sample.startUs - hiddenFraction * sample.stepUs;
    const lowerUs = Math.min(event.atUs - lateWindows * sample.stepUs, earliestUs);
    const pointUs = Math.min(event.atUs, seenUs);
    const adjacent = event.atUs > sample.startUs - sample.stepUs / 2;
    return { edge: { lowerUs, upperUs: sample.endUs, pointUs, adjacent }, disagree: false };
  }
  const adjacent = !timeline.gapsBefore.includes(first);
  const lowerUs = before.endUs - hiddenFraction * before.stepUs;
  const upperUs = sample.endUs;
  const told = event !== undefined && event.atUs >= lowerUs && event.atUs <= upperUs;
  const guess = told ? event.atUs : (lowerUs + upperUs) / 2;
  const latestUs = upperUs + lateWindows * sample.stepUs;
  const disagree = event !== undefined && !(event.atUs >= lowerUs && event.atUs <= latestUs);
  return { edge: { lowerUs, upperUs, pointUs: adjacent ? seenUs : guess, adjacent }, disagree };
}

function endEdge(
  timeline: Timeline,
  last: number,
  sample: WindowedSample,
  seenUs: number,
  events: readonly ShotEvent[],
): { edge: Edge; disagree: boolean } {
  const lowerUs = sample.startUs;
  const after = sampleAt(timeline, last + 1);
  const adjacent = after !== undefined && !timeline.gapsBefore.includes(last + 1);
  let upperUs =
    after === undefined ? Number.POSITIVE_INFINITY : after.startUs + hiddenFraction * after.stepUs;
  // A rig that switched off because the specimen had opened did so after the opening.
  const off = events.find((one) => one.kind === "off");
  const offBounds = off?.why === "opened" && off.atUs >= lowerUs;
  if (offBounds) upperUs = Math.min(upperUs, off.atUs);
  const opened = events.find((one) => one.kind === "opening" && one.atUs >= lowerUs && one.atUs <= upperUs);
  if (opened !== undefined && upperUs === Number.POSITIVE_INFINITY) {
    upperUs = opened.atUs + lateWindows * sample.stepUs;
  }
  const guess = upperUs === Number.POSITIVE_INFINITY ? seenUs : (lowerUs + upperUs) / 2;
  const pointUs = adjacent ? Math.min(seenUs, upperUs) : (opened?.atUs ?? guess);
  return { edge: { lowerUs, upperUs, pointUs, adjacent }, disagree: off?.why === "opened" && !offBounds };
}
