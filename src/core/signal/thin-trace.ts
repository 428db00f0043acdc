import { type Timeline, timelineOf } from "./_timeline.ts";
import type { SampleRun } from "./shot-signal.ts";

/** Points to draw: `t` in seconds from the beginning of the first window, rising; null where samples are missing. */
export interface ThinnedTrace {
  t: number[];
  amps: (number | null)[];
}

/**
 * Thins samples to at most `maxPoints` points without losing what an eye would look for: the lowest and the highest sample
 * of each of many equal stretches of time, the first and the last sample, and a null at missing samples. Every point is a
 * sample at the end of its window; nothing is averaged. Gaps between two neighbouring points share one null.
 *
 * @throws RangeError if `maxPoints` is not a whole number of 8 or more, or a run's step is not above zero
 */
export function thinTrace(runs: readonly SampleRun[], maxPoints: number): ThinnedTrace {
  if (!(Number.isInteger(maxPoints) && maxPoints >= 8)) {
    throw new RangeError(`expected maxPoints to be a whole number of 8 or more but found ${maxPoints}`);
  }
  const timeline = timelineOf(runs);
  const count = timeline.milliamps.length;
  const gaps = timeline.gapsBefore.length;
  if (count + gaps <= maxPoints) return everything(timeline);
  const kept = extremes(timeline, stretches(maxPoints, gaps));
  return drawn(timeline, kept);
}

/** As many stretches as leave room for two points each, the two ends, and a null for every gap or between all points. */
function stretches(maxPoints: number, gaps: number): number {
  const withEveryGap = Math.floor((maxPoints - 2 - gaps) / 2);
  const withNullsBetweenAll = Math.floor((maxPoints - 3) / 4);
  return Math.max(withEveryGap, withNullsBetweenAll);
}

function everything(timeline: Timeline): ThinnedTrace {
  return drawn(
    timeline,
    Array.from(timeline.milliamps, (_, i) => i),
  );
}

/** Indices of the samples to keep, rising. */
function extremes({ milliamps, endUs }: Timeline, count: number): number[] {
  const samples = milliamps.length;
  const startUs = endUs[0] ?? 0;
  const spanUs = (endUs[samples - 1] ?? 0) - startUs;
  const stretchOf = (index: number) =>
    spanUs > 0 ? Math.min(count - 1, Math.floor((((endUs[index] ?? 0) - startUs) / spanUs) * count)) : 0;
  const kept = new Set<number>([0]);
  let open = 0;
  let low = 0;
  let high = 0;
  const close = () => {
    kept.add(Math.min(low, high));
    kept.add(Math.max(low, high));
  };
  for (let i = 1; i < samples; i += 1) {
    const stretch = stretchOf(i);
    if (stretch > open) {
      close();
      open = stretch;
      low = i;
      high = i;
    }
    const value = milliamps[i] ?? 0;
    if (value < (milliamps[low] ?? 0)) low = i;
    if (value > (milliamps[high] ?? 0)) high = i;
  }
  close();
  kept.add(samples - 1);
  return [...kept].toSorted((a, b) => a - b);
}

/** The kept samples, with one null between two of them that have a gap between. */
function drawn({ milliamps, startUs, endUs, gapsBefore }: Timeline, kept: readonly number[]): ThinnedTrace {
  const t: number[] = [];
  const amps: (number | null)[] = [];
  let gap = 0;
  let before = -1;
  for (const index of kept) {
    while ((gapsBefore[gap] ?? Number.POSITIVE_INFINITY) <= before) gap += 1;
    const place = gapsBefore[gap];
    if (before >= 0 && place !== undefined && place <= index) {
      t.push(((endUs[place - 1] ?? 0) + (startUs[place] ?? 0)) / 2e6);
      amps.push(null);
    }
    t.push((endUs[index] ?? 0) / 1e6);
    amps.push((milliamps[index] ?? 0) / 1000);
    before = index;
  }
  return { t, amps };
}
