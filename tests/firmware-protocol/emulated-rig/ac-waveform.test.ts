import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { AcWaveform } from "../../../firmware-protocol/emulated-rig/ac-waveform.ts";

const cycleUs = 20_000;
const angle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });

describe("AcWaveform", () => {
  it("begins at zero, whatever the angle", () => {
    fc.assert(fc.property(angle, (a) => Math.abs(new AcWaveform(cycleUs, a, 12_000).shape(0)) < 1e-12));
    expect(new AcWaveform(cycleUs, 1, 12_000).shape(-1)).toBe(0);
  });

  it("is a sine of the wanted true RMS once its offset has died", () => {
    fc.assert(
      fc.property(angle, fc.double({ min: 0, max: 1e6, noNaN: true }), (a, later) => {
        const waveform = new AcWaveform(cycleUs, a, 12_000);
        const from = 250_000 + later;
        expect(waveform.isSteady(from)).toBe(true);
        expect(waveform.windowRms(from, from + cycleUs, Number.POSITIVE_INFINITY)).toBeCloseTo(1, 9);
        expect(waveform.windowRms(from, from + cycleUs / 2, Number.POSITIVE_INFINITY)).toBeCloseTo(1, 9);
      }),
    );
  });

  // Peak of a fully offset wave: between sqrt(2) and 2 sqrt(2) (textbook; 1.8 sqrt(2) is the usual round figure for R/X small).
  it("has a first peak of up to twice the steady one at the worst angle, and none higher at the best", () => {
    const peak = (a: number) => {
      const waveform = new AcWaveform(cycleUs, a, 45_000);
      return (
        Math.max(...Array.from({ length: 2000 }, (_, i) => Math.abs(waveform.shape(i * 10)))) / Math.SQRT2
      );
    };
    expect(peak(Math.PI / 2)).toBeGreaterThan(1.7);
    expect(peak(Math.PI / 2)).toBeLessThan(2);
    expect(peak(0)).toBeCloseTo(1, 3);
  });

  it("finds the next zero: near it the current is small, and it lies at most a cycle ahead", () => {
    fc.assert(
      fc.property(angle, fc.double({ min: 1, max: 500_000, noNaN: true }), (a, us) => {
        const waveform = new AcWaveform(cycleUs, a, 12_000);
        const zero = waveform.nextZero(us);
        expect(zero).toBeGreaterThan(us);
        expect(zero - us).toBeLessThanOrEqual(1.05 * cycleUs);
        expect(Math.abs(waveform.shape(zero))).toBeLessThan(0.001);
      }),
    );
  });

  it("gives a window in which the current ended the share of its energy", () => {
    const waveform = new AcWaveform(cycleUs, 0, 12_000);
    expect(waveform.windowRms(0, cycleUs, cycleUs / 2)).toBeCloseTo(Math.SQRT1_2, 6);
    expect(waveform.windowRms(0, cycleUs, 0)).toBe(0);
    expect(waveform.windowRms(cycleUs, 2 * cycleUs, cycleUs / 2)).toBe(0);
  });

  it("finds where a level is passed, and not where it is not", () => {
    const waveform = new AcWaveform(cycleUs, 0, 12_000);
    expect(waveform.firstAbove(1, 0, cycleUs)).toBeCloseTo(cycleUs / 8, -3);
    expect(waveform.firstAbove(1.5, 0, cycleUs)).toBeNull();
  });
});
