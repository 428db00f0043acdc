import { describe, expect, it } from "vitest";
import { SeededRandom } from "../../../firmware-protocol/emulated-rig/seeded-random.ts";

const draw = (random: SeededRandom, count: number, how: (random: SeededRandom) => number) =>
  Array.from({ length: count }, () => how(random));

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("SeededRandom", () => {
  // Values of the reference implementation xoshiro128starstar.c 1.1 (Blackman and Vigna) from state 1, 2, 3, 4, as printed
  // in the test of the Rust crate rand_xoshiro.
  it("gives the published numbers of its generator", () => {
    const random = new SeededRandom([1, 2, 3, 4]);
    expect(draw(random, 10, (one) => one.uint32())).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  it("repeats itself from the same seed and label, and from no other", () => {
    const from = (seed: number, label: string) =>
      draw(SeededRandom.stream(seed, label), 5, (one) => one.uint32()).join();
    expect(from(7, "source")).toBe(from(7, "source"));
    expect(
      new Set([from(7, "source"), from(8, "source"), from(7, "breaker"), from(7, "source 1")]).size,
    ).toBe(4);
  });

  it("draws uniform numbers with the moments of the uniform distribution", () => {
    const values = draw(SeededRandom.stream(1, "uniform"), 40_000, (one) => one.uniform());
    expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values)).toBeLessThan(1);
    expect(mean(values)).toBeCloseTo(1 / 2, 2);
    expect(mean(values.map((value) => (value - 0.5) ** 2))).toBeCloseTo(1 / 12, 2);
  });

  // Shares within 1, 2 and 3 standard deviations: 0.6827, 0.9545, 0.9973, any table of the normal distribution.
  it("draws normal numbers as a table has them", () => {
    const values = draw(SeededRandom.stream(1, "normal"), 40_000, (one) => one.normal());
    const within = (limit: number) => mean(values.map((value) => Number(Math.abs(value) < limit)));
    expect(mean(values)).toBeCloseTo(0, 1);
    expect(within(1)).toBeCloseTo(0.6827, 2);
    expect(within(2)).toBeCloseTo(0.9545, 2);
    expect(within(3)).toBeCloseTo(0.9973, 2);
  });

  it("scatters about one, no further than three standard deviations of the logarithm", () => {
    const values = draw(SeededRandom.stream(1, "scatter"), 40_000, (one) => one.scatter(0.1));
    expect(mean(values.map(Math.log))).toBeCloseTo(0, 2);
    expect(Math.max(...values)).toBeCloseTo(Math.exp(0.3), 9);
    expect(Math.min(...values)).toBeCloseTo(Math.exp(-0.3), 9);
  });

  it("takes chances as often as asked, and none at zero", () => {
    const random = SeededRandom.stream(1, "chance");
    expect(mean(draw(random, 20_000, (one) => Number(one.chance(0.2))))).toBeCloseTo(0.2, 1);
    expect(draw(random, 1000, (one) => Number(one.chance(0)))).not.toContain(1);
    expect(draw(random, 1000, (one) => Number(one.chance(1)))).not.toContain(0);
  });

  it("refuses a state of zeros, which would never leave it", () => {
    expect(() => new SeededRandom([0, 0, 0, 0])).toThrow("must not be all zero");
  });
});
