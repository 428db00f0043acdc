import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readShot } from "../../../src/core/signal/read-shot.ts";
import type { RawWindow, ShotSignal } from "../../../src/core/signal/shot-signal.ts";
import { context, sampled, type Truth, tripSignal } from "./_synthetic-shot.ts";

/** Instantaneous values of a truth from `fromUs` on, 10 000 a second, in messages of at most 30 values. */
function rawOf(truth: Truth, kind: RawWindow["window"], fromUs: number, count: number): RawWindow[] {
  const w = (2 * Math.PI * truth.lineHz) / 1e6;
  const stepUs = 100;
  const value = (i: number) => {
    const time = fromUs + i * stepUs;
    const flows = time >= truth.onsetUs && time < truth.endUs;
    return Math.round(flows ? 1000 * truth.amps * Math.SQRT2 * Math.sin(w * time + truth.phase) : 3);
  };
  const pieces: RawWindow[] = [];
  for (let i = 0; i < count; i += 30) {
    const length = Math.min(30, count - i);
    pieces.push({
      window: kind,
      firstAtUs: (truth.clockUs ?? 0) + fromUs + i * stepUs,
      stepNs: stepUs * 1000,
      milliamps: Int32Array.from({ length }, (_, j) => value(i + j)),
    });
  }
  return pieces;
}

const instantaneous = { ...context, targetAmps: 200, regulationPercent: 5 };
const truths = fc
  .record({
    onsetUs: fc.integer({ min: 100_000, max: 120_000 }),
    onUs: fc.integer({ min: 9000, max: 60_000 }),
    lineHz: fc.constantFrom(50, 60),
    phase: fc.double({ min: 0, max: Math.PI, noNaN: true }),
  })
  .map((one): Truth => {
    // A natural opening: at a zero of the current.
    const w = (2 * Math.PI * one.lineHz) / 1e6;
    const halves = Math.ceil((w * (one.onsetUs + one.onUs) + one.phase) / Math.PI);
    const endUs = (halves * Math.PI - one.phase) / w;
    return {
      ...one,
      amps: 200,
      clockUs: 7_000_001,
      endUs,
      lengthUs: 500_000,
      stepUs: Math.round(1e6 / one.lineHz),
    };
  });
const withRaw = (truth: Truth): ShotSignal => ({
  ...tripSignal(truth, [sampled(truth)]),
  raw: [
    ...rawOf(truth, "opening", Math.round(truth.endUs) - 60_000, 1000),
    ...rawOf(truth, "onset", 90_000, 1000),
  ],
});

describe("raw windows", () => {
  it("narrow the interval of a short trip to a few milliseconds, the truth still inside", () => {
    fc.assert(
      fc.property(truths, (truth) => {
        const reading = readShot(withRaw(truth), { ...instantaneous, lineHz: truth.lineHz });
        const seconds = (truth.endUs - truth.onsetUs) / 1e6;
        expect(reading.interval?.lower).toBeLessThanOrEqual(seconds + 1e-6);
        expect(reading.interval?.upper).toBeGreaterThanOrEqual(seconds - 1e-6);
        expect((reading.interval?.upper ?? 1) - (reading.interval?.lower ?? 0)).toBeLessThan(0.0046);
        expect(Math.abs((reading.seconds ?? 0) - seconds)).toBeLessThan(0.0005);
        expect(reading.flags).not.toContain("rig-disagrees");
      }),
    );
  });

  it("give the current of a shot that has no whole window", () => {
    const truth: Truth = {
      amps: 200,
      clockUs: 7_000_001,
      onsetUs: 102_000,
      endUs: 102_000 + 16_667,
      lengthUs: 400_000,
      stepUs: 16_667,
      lineHz: 60,
      phase: -(2 * Math.PI * 60 * 0.102),
    };
    const reading = readShot(withRaw(truth), instantaneous);
    expect(reading.effectiveAmps).toBeGreaterThan(198);
    expect(reading.effectiveAmps).toBeLessThan(202);
    expect(reading.flags).toEqual([]);
    expect(readShot(tripSignal(truth), instantaneous).effectiveAmps).toBeLessThan(198);
  });

  it("that contradict the samples are left out, and flagged", () => {
    fc.assert(
      fc.property(truths, (truth) => {
        const signal = withRaw(truth);
        const moved = signal.raw.map((one) => ({ ...one, firstAtUs: one.firstAtUs + 150_000 }));
        const reading = readShot({ ...signal, raw: moved }, instantaneous);
        expect(reading.flags).toContain("rig-disagrees");
        expect(reading.interval).toEqual(readShot(tripSignal(truth), instantaneous).interval);
      }),
      { numRuns: 20 },
    );
  });

  it("that end before half a cycle without current do not show an opening", () => {
    const truth: Truth = {
      amps: 200,
      onsetUs: 102_000,
      endUs: 300_000,
      lengthUs: 500_000,
      stepUs: 16_667,
      lineHz: 60,
      phase: 0,
    };
    const reading = (count: number) =>
      readShot({ ...tripSignal(truth), raw: rawOf(truth, "opening", 290_000, count) }, instantaneous);
    const without = readShot(tripSignal(truth), instantaneous).interval;
    expect(reading(170).interval).toEqual(without);
    expect(reading(240).interval?.upper).toBeLessThan(without?.upper ?? 0);
  });

  it("show the first cycles only where they show the onset and the frequency is known", () => {
    const truth: Truth = {
      amps: 200,
      onsetUs: 102_000,
      endUs: 300_000,
      lengthUs: 500_000,
      stepUs: 16_667,
      lineHz: 60,
      phase: 0,
    };
    const signal = withRaw(truth);
    const { transient } = readShot(signal, instantaneous);
    expect(transient?.peakAmps).toBeCloseTo(200 * Math.SQRT2, 0);
    for (const amps of transient?.halfCycleAmps.slice(1) ?? [])
      expect(Math.abs(amps / 200 - 1)).toBeLessThan(0.02);
    const { lineHz: _, ...unknown } = instantaneous;
    expect(readShot(signal, unknown).transient).toBeUndefined();
    const openingOnly = signal.raw.filter((one) => one.window === "opening");
    expect(readShot({ ...signal, raw: openingOnly }, instantaneous).transient).toBeUndefined();
  });
});
