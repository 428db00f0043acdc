import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SampleRun } from "../../src/core/signal/shot-signal.ts";
import { mergeRuns } from "../../src/store/merge-runs.ts";

const stepUs = 10;
const runAt = (place: number, ...values: number[]): SampleRun => ({
  firstEndUs: place * stepUs,
  stepUs,
  milliamps: Int32Array.from(values),
});

/** Places on a grid at which samples exist, and the pieces, overlapping or not, in which they arrive in any order. */
const arrivals = fc
  .array(fc.record({ place: fc.nat(60), count: fc.integer({ min: 1, max: 12 }) }), {
    minLength: 1,
    maxLength: 20,
  })
  .map((pieces) =>
    pieces.map(({ place, count }) =>
      runAt(place, ...Array.from({ length: count }, (_, i) => (place + i) * 7)),
    ),
  );

/** Time and value of every sample of `runs`. */
const samplesOf = (runs: readonly SampleRun[]) =>
  runs.flatMap((run) => [...run.milliamps].map((value, i) => [run.firstEndUs + i * run.stepUs, value]));

describe("mergeRuns()", () => {
  it("keeps every sample once, in order of time, and joins whatever touches", () => {
    fc.assert(
      fc.property(arrivals, (runs) => {
        const merged = mergeRuns(runs);
        const expected = new Map(samplesOf(runs) as [number, number][]);
        expect(samplesOf(merged)).toEqual([...expected].sort(([a], [b]) => a - b));
        for (const [i, run] of merged.entries()) {
          const next = merged[i + 1];
          const endUs = run.firstEndUs + (run.milliamps.length - 1) * stepUs;
          if (next !== undefined) expect(next.firstEndUs).toBeGreaterThan(endUs + stepUs);
        }
      }),
    );
  });

  it("changes nothing when done twice", () => {
    fc.assert(
      fc.property(arrivals, (runs) => {
        expect(mergeRuns(mergeRuns(runs))).toEqual(mergeRuns(runs));
      }),
    );
  });

  it("does not join samples of different steps", () => {
    const other = { firstEndUs: 3 * stepUs, stepUs: 20, milliamps: Int32Array.of(5) };
    expect(mergeRuns([runAt(1, 1, 2), other])).toEqual([runAt(1, 1, 2), other]);
  });

  it("does not change what it is given", () => {
    const runs = Object.freeze([runAt(5, 1), runAt(1, 2)]);
    mergeRuns(runs);
    expect(runs[0]).toEqual(runAt(5, 1));
  });
});
