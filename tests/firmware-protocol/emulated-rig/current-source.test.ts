import { describe, expect, it } from "vitest";
import { CurrentSource } from "../../../firmware-protocol/emulated-rig/current-source.ts";
import { SeededRandom } from "../../../firmware-protocol/emulated-rig/seeded-random.ts";

const window = 1 / 60;
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const greatest = (values: readonly number[]) => values.reduce((most, value) => Math.max(most, value));
const run = (source: CurrentSource, amps: number, seconds: number, seed = 1) => {
  source.beginShot(amps, SeededRandom.stream(seed, "shot"));
  return Array.from({ length: seconds * 60 }, () => source.next(window));
};

describe("CurrentSource", () => {
  it("settles within a fraction of a second and then holds within one per cent for an hour", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const amps = run(new CurrentSource(), 40, 3600, seed);
      const errors = amps.map((one) => Math.abs(one / 40 - 1));
      expect(greatest(errors.slice(15))).toBeLessThan(0.01);
      expect(greatest(errors)).toBeLessThan(0.08);
    }
  });

  it("sags as its leads warm, and recovers after a rest", () => {
    const starts = [1, 2, 3, 4, 5, 6].map((seed) => {
      const source = new CurrentSource();
      const first = run(source, 40, 900, seed);
      const sag = mean(first.slice(-600)) - mean(first.slice(60, 180));
      const again = mean(run(source, 40, 3, 10 * seed).slice(60));
      source.rest(3600);
      const rested = mean(run(source, 40, 3, 10 * seed).slice(60));
      return { sag, recovered: rested - again };
    });
    expect(mean(starts.map((one) => one.sag))).toBeLessThan(-0.04);
    for (const { recovered } of starts) expect(recovered).toBeGreaterThan(0.08);
  });

  it("ripples from cycle to cycle", () => {
    const amps = run(new CurrentSource(), 40, 60).slice(60);
    const steps = amps.slice(1).map((one, index) => one - (amps[index] as number));
    const ripple = Math.sqrt(mean(steps.map((step) => step * step))) / 40;
    expect(ripple).toBeGreaterThan(1e-4);
    expect(ripple).toBeLessThan(2e-3);
  });

  it("measures in whole milliamperes, near the truth and never below zero", () => {
    const source = new CurrentSource();
    run(source, 40, 1);
    const zeros = Array.from({ length: 500 }, () => source.measureRms(0));
    expect(Math.min(...zeros)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...zeros)).toBeLessThan(60);
    const values = Array.from({ length: 500 }, () => source.measureRms(40));
    expect(values.every(Number.isInteger)).toBe(true);
    expect(mean(values)).toBeCloseTo(40_000, -1);
    expect(new Set(values).size).toBeGreaterThan(5);
  });

  it("quantises instantaneous current to the steps of its converter", () => {
    const source = new CurrentSource();
    run(source, 4000, 1);
    const steps = Array.from({ length: 200 }, (_, index) => source.measureInstant(index) / 488);
    expect(steps.every(Number.isInteger)).toBe(true);
  });

  it("warms under a great current and cools afterwards", () => {
    const source = new CurrentSource();
    run(source, 60_000, 3600);
    expect(source.riseKelvin).toBeGreaterThan(50);
    expect(source.riseKelvin).toBeLessThan(60);
    source.rest(3600);
    expect(source.riseKelvin).toBeLessThan(2);
  });

  it("gives no current before a shot has begun", () => {
    expect(() => new CurrentSource().next(window)).toThrow("before beginShot");
  });
});
