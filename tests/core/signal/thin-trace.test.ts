import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SampleRun } from "../../../src/core/signal/shot-signal.ts";
import { thinTrace } from "../../../src/core/signal/thin-trace.ts";
import { without } from "./_synthetic-shot.ts";

const runOf = (values: readonly number[]): SampleRun => ({
  firstEndUs: 1_000_000,
  stepUs: 10_000,
  milliamps: Int32Array.from(values),
});
const runs = fc
  .record({
    values: fc.array(fc.integer({ min: 0, max: 100_000 }), { minLength: 1, maxLength: 400 }),
    holes: fc.array(fc.nat(400), { maxLength: 60 }),
    maxPoints: fc.integer({ min: 8, max: 500 }),
  })
  .map(({ values, holes, maxPoints }) => ({
    pieces: without(runOf(values), (i) => !holes.includes(i)),
    maxPoints,
  }));
const samplesOf = (pieces: readonly SampleRun[]) =>
  pieces.flatMap((run) =>
    Array.from(run.milliamps, (value, i) => ({
      endUs: run.firstEndUs + i * run.stepUs - 1_000_000,
      amps: value / 1000,
    })),
  );

describe("a thinned trace", () => {
  it("never has more points than asked for, and keeps the extremes and both ends", () => {
    fc.assert(
      fc.property(runs, ({ pieces, maxPoints }) => {
        const { t, amps } = thinTrace(pieces, maxPoints);
        const all = samplesOf(pieces).map((one) => one.amps);
        const shown = amps.filter((value) => value !== null);
        expect(t).toHaveLength(amps.length);
        expect(t.length).toBeLessThanOrEqual(maxPoints);
        if (all.length === 0) return;
        expect(Math.max(...shown)).toBe(Math.max(...all));
        expect(Math.min(...shown)).toBe(Math.min(...all));
        expect([shown.at(0), shown.at(-1)]).toEqual([all.at(0), all.at(-1)]);
      }),
      { numRuns: 500 },
    );
  });

  it("shows samples and nothing else, in order of time", () => {
    fc.assert(
      fc.property(runs, ({ pieces, maxPoints }) => {
        const { t, amps } = thinTrace(pieces, maxPoints);
        const first = (pieces[0]?.firstEndUs ?? 0) - 1_000_000 - 10_000;
        const known = new Set(samplesOf(pieces).map((one) => `${Math.round(one.endUs - first)} ${one.amps}`));
        for (const [i, value] of amps.entries()) {
          if (value !== null) expect(known.has(`${Math.round((t[i] ?? 0) * 1e6)} ${value}`)).toBe(true);
          if (i > 0) expect(t[i]).toBeGreaterThan(t[i - 1] ?? 0);
        }
      }),
    );
  });

  it("breaks its line wherever samples are missing between two points", () => {
    fc.assert(
      fc.property(runs, ({ pieces, maxPoints }) => {
        const { t, amps } = thinTrace(pieces, maxPoints);
        const first = (pieces[0]?.firstEndUs ?? 0) - 10_000;
        const starts = pieces.slice(1).map((run) => (run.firstEndUs - run.stepUs - first) / 1e6);
        for (let i = 1; i < t.length; i += 1) {
          if (amps[i] === null || amps[i - 1] === null) continue;
          const crossed = starts.some(
            (start) => start > (t[i - 1] ?? 0) - 1e-9 && start < (t[i] ?? 0) - 1e-9,
          );
          expect(crossed && !touching(pieces, start(t[i - 1]), start(t[i]), first)).toBe(false);
        }
      }),
    );
  });

  it("leaves a short trace as it is, a null in each gap", () => {
    const pieces = without(runOf([1000, 2000, 3000, 4000, 5000]), (i) => i !== 2);
    expect(thinTrace(pieces, 100)).toEqual({
      t: [0.01, 0.02, 0.025, 0.04, 0.05],
      amps: [1, 2, null, 4, 5],
    });
  });

  it("draws two hours at 60 Hz with at most 4000 points, a one-cycle dip among them", () => {
    const milliamps = new Int32Array(432_000).fill(20_000);
    milliamps[300_001] = 7;
    const { t, amps } = thinTrace([{ firstEndUs: 16_667, stepUs: 16_667, milliamps }], 4000);
    expect(t.length).toBeLessThanOrEqual(4000);
    expect(t.length).toBeGreaterThan(1900);
    expect(amps).toContain(0.007);
  });

  it("is empty without samples, and refuses fewer than eight points", () => {
    expect(thinTrace([], 10)).toEqual({ t: [], amps: [] });
    expect(() => thinTrace([], 7)).toThrow("found 7");
    expect(() => thinTrace([], 10.5)).toThrow("found 10.5");
  });
});

const start = (seconds: number | undefined) => Math.round((seconds ?? 0) * 1e6);
/** True where no sample is missing between two ends of windows: consecutive runs that only look apart. */
function touching(pieces: readonly SampleRun[], fromUs: number, toUs: number, originUs: number): boolean {
  const ends = pieces.flatMap((run) =>
    Array.from(run.milliamps, (_, i) => run.firstEndUs + i * run.stepUs - originUs),
  );
  const inside = ends.filter((end) => end >= fromUs && end <= toUs);
  return inside.length === (toUs - fromUs) / 10_000 + 1;
}
