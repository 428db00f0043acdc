import { readShot } from "../../src/core/signal/read-shot.ts";
import type { ReadingContext } from "../../src/core/signal/reading-context.ts";
import { firstOrderThermal } from "../../src/core/signal/sensitivity.ts";
import type { ShotSignal } from "../../src/core/signal/shot-signal.ts";
import { thinTrace } from "../../src/core/signal/thin-trace.ts";
import { type Benchmark, fastestSeconds } from "./benchmark.ts";

const samples = 432_000;
const perRun = 30;
const stepUs = 16_667;

/** Two hours at one sample per 60 Hz cycle, in runs as short as the wire brings them. */
function twoHours(): ShotSignal {
  const runs = Array.from({ length: samples / perRun }, (_, r) => ({
    firstEndUs: (r * perRun + 1) * stepUs,
    stepUs,
    milliamps: Int32Array.from({ length: perRun }, (_, i) => {
      const index = r * perRun + i;
      return index < 10 || index > samples - 10 ? 2 : 26_950 + ((index * 7919) % 101);
    }),
  }));
  const off = { atUs: (samples - 5) * stepUs, kind: "off", why: "opened" } as const;
  return { runs, events: [off], raw: [], rigResult: null, hostEnd: "rig-ended" };
}

const context: ReadingContext = {
  ratedAmps: 20,
  targetAmps: 27,
  basis: { currentPercent: 1, currentK: 2, timerSeconds: 1e-5 },
  ambientCelsius: 25,
  ambientRange: { lowestCelsius: 22, highestCelsius: 28 },
  sensitivity: firstOrderThermal(1.1),
  regulationPercent: 2,
};

/** What must be done at the least: every sample touched once, for the energy. */
function bareLoop(signal: ShotSignal): number {
  let energy = 0;
  for (const { milliamps, stepUs: step } of signal.runs) {
    for (let i = 0; i < milliamps.length; i += 1) energy += (milliamps[i] ?? 0) ** 2 * step;
  }
  return energy;
}

function beside(work: (signal: ShotSignal) => unknown, mostTimes: number, mostSeconds: number) {
  const signal = twoHours();
  let sink = 0;
  const bare = fastestSeconds(20, () => {
    sink += bareLoop(signal);
  });
  const worked = fastestSeconds(10, () => {
    sink += work(signal) === null ? 1 : 0;
  });
  const ratio = worked / bare;
  return {
    figures: `${(worked * 1000).toFixed(1)} ms, ${ratio.toFixed(1)} times a bare loop (${(bare * 1000).toFixed(2)} ms)`,
    met: worked < mostSeconds && ratio < mostTimes && Number.isFinite(sink),
  };
}

export const benchmarks: Benchmark[] = [
  {
    name: "reading of a two-hour shot, 432,000 samples",
    target: "under 250 ms and under 100 times a bare loop over the same samples",
    measure: () => beside((signal) => readShot(signal, context), 100, 0.25),
  },
  {
    name: "trace of a two-hour shot thinned to 4,000 points",
    target: "under 250 ms and under 150 times a bare loop over the same samples",
    measure: () => beside((signal) => thinTrace(signal.runs, 4000), 150, 0.25),
  },
];
