import type { ReadingContext } from "../../../src/core/signal/reading-context.ts";
import { firstOrderThermal } from "../../../src/core/signal/sensitivity.ts";
import type { SampleRun, ShotSignal } from "../../../src/core/signal/shot-signal.ts";

/** A shot whose truth is known: alternating current of constant RMS from onset to end, as a rig would sample it. */
export interface Truth {
  amps: number;
  onsetUs: number;
  endUs: number;
  lengthUs: number;
  stepUs: number;
  lineHz: number;
  /** Phase of the current at time 0, in radians. */
  phase: number;
  /** Noise of a sample in amperes, by its index. */
  noise?: (index: number) => number;
  clockUs?: number;
}

/** Mean of 2 sin^2 over [from, to], times its length, in closed form. */
function energy(truth: Truth, fromUs: number, toUs: number): number {
  if (toUs <= fromUs) return 0;
  const w = (2 * Math.PI * truth.lineHz) / 1e6;
  const antiderivative = (time: number) => time - Math.sin(2 * (w * time + truth.phase)) / (2 * w);
  return antiderivative(toUs) - antiderivative(fromUs);
}

/** True RMS of each window from 0 to `lengthUs`, in one run. */
export function sampled(truth: Truth): SampleRun {
  const count = Math.floor(truth.lengthUs / truth.stepUs);
  const milliamps = Int32Array.from({ length: count }, (_, i) => {
    const from = Math.max(i * truth.stepUs, truth.onsetUs);
    const to = Math.min((i + 1) * truth.stepUs, truth.endUs);
    const amps = truth.amps * Math.sqrt(Math.max(0, energy(truth, from, to)) / truth.stepUs);
    return Math.max(0, Math.round(1000 * (amps + (truth.noise?.(i) ?? 0))));
  });
  return { firstEndUs: (truth.clockUs ?? 0) + truth.stepUs, stepUs: truth.stepUs, milliamps };
}

/** The run without the samples that `keep` refuses, cut where something is missing. */
export function without(run: SampleRun, keep: (index: number) => boolean): SampleRun[] {
  const runs: SampleRun[] = [];
  let from = -1;
  for (let i = 0; i <= run.milliamps.length; i += 1) {
    const kept = i < run.milliamps.length && keep(i);
    if (kept && from === -1) from = i;
    if (!kept && from !== -1) {
      runs.push(part(run, from, i));
      from = -1;
    }
  }
  return runs;
}

/** Samples `from` up to, not including, `to`. */
export function part(run: SampleRun, from: number, to: number): SampleRun {
  return {
    firstEndUs: run.firstEndUs + from * run.stepUs,
    stepUs: run.stepUs,
    milliamps: run.milliamps.slice(from, to),
  };
}

/** A trip that the rig noticed two windows after it. */
export function tripSignal(truth: Truth, runs: readonly SampleRun[] = [sampled(truth)]): ShotSignal {
  const clock = truth.clockUs ?? 0;
  return {
    runs,
    events: [
      { atUs: clock + Math.round(truth.onsetUs), kind: "onset" },
      { atUs: clock + Math.round(truth.endUs + 2 * truth.stepUs), kind: "off", why: "opened" },
    ],
    raw: [],
    rigResult: null,
    hostEnd: "rig-ended",
  };
}

export const sixtyHertz = { stepUs: 16_667, lineHz: 60, phase: 0.4 } as const;

/** 20 A breaker at 200 %, tripped after 24.0 s. */
export const plainTrip: Truth = {
  ...sixtyHertz,
  amps: 40,
  onsetUs: 500_000,
  endUs: 24_500_000,
  lengthUs: 25_000_000,
};

export const context: ReadingContext = {
  ratedAmps: 20,
  targetAmps: 40,
  basis: { currentPercent: 1, currentK: 2, timerSeconds: 1e-5 },
  ambientCelsius: 25,
  ambientRange: { lowestCelsius: 22, highestCelsius: 28 },
  sensitivity: firstOrderThermal(1.1),
  coldness: "cold",
  regulationPercent: 2,
  lineHz: 60,
};
