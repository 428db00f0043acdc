import type { SampleRun } from "./shot-signal.ts";

/** The samples of a shot one after another, however they were cut into runs. Times in microseconds from `originUs`. */
export interface Timeline {
  /** Beginning of the first window on the rig's clock; all other times count from it, so that no digit depends on the date. */
  originUs: number;
  milliamps: Int32Array;
  startUs: Float64Array;
  endUs: Float64Array;
  /** Indices of the samples before which something is missing. */
  gapsBefore: number[];
  /** True where a run begins before the one ahead of it has ended. */
  runsBack: boolean;
}

/**
 * Lays runs end to end. Two runs are contiguous when one begins within half a window of where the other ended: the rig
 * measures over cycles of the line, whose length is no whole number of microseconds and wanders.
 *
 * @throws RangeError if a run's step is not a whole number of microseconds above zero
 */
export function timelineOf(runs: readonly SampleRun[]): Timeline {
  const count = runs.reduce((sum, run) => sum + run.milliamps.length, 0);
  const earliest = runs.find((run) => run.milliamps.length > 0);
  const originUs = earliest === undefined ? 0 : earliest.firstEndUs - earliest.stepUs;
  const timeline: Timeline = {
    originUs,
    milliamps: new Int32Array(count),
    startUs: new Float64Array(count),
    endUs: new Float64Array(count),
    gapsBefore: [],
    runsBack: false,
  };
  let at = 0;
  for (const run of runs) {
    if (!(Number.isSafeInteger(run.stepUs) && run.stepUs > 0)) {
      throw new RangeError(`expected a run's stepUs to be a whole number above zero but found ${run.stepUs}`);
    }
    if (run.milliamps.length === 0) continue;
    if (at > 0) {
      const missing = run.firstEndUs - originUs - run.stepUs - (timeline.endUs[at - 1] ?? 0);
      if (missing > run.stepUs / 2) timeline.gapsBefore.push(at);
      if (missing < -run.stepUs / 2) timeline.runsBack = true;
    }
    timeline.milliamps.set(run.milliamps, at);
    for (let i = 0; i < run.milliamps.length; i += 1) {
      const end = run.firstEndUs - originUs + i * run.stepUs;
      timeline.startUs[at + i] = end - run.stepUs;
      timeline.endUs[at + i] = end;
    }
    at += run.milliamps.length;
  }
  return timeline;
}

/** The sample at `index` with its window, or undefined outside the timeline. */
export function sampleAt(timeline: Timeline, index: number): WindowedSample | undefined {
  const milliamps = timeline.milliamps[index];
  const startUs = timeline.startUs[index];
  const endUs = timeline.endUs[index];
  if (milliamps === undefined || startUs === undefined || endUs === undefined) return undefined;
  return { milliamps, startUs, endUs, stepUs: endUs - startUs };
}

/** One true RMS value and the window it was taken over. */
export interface WindowedSample {
  milliamps: number;
  startUs: number;
  endUs: number;
  stepUs: number;
}
