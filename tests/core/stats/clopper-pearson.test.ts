import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { binomialAtLeast, binomialAtMost } from "../../../src/core/stats/binomial-tail.ts";
import {
  clopperPearson,
  clopperPearsonLower,
  clopperPearsonUpper,
} from "../../../src/core/stats/clopper-pearson.ts";
import { wilson } from "../../../src/core/stats/wilson.ts";
import { expectRelative } from "./close-to.ts";
import { level, sample } from "./samples.ts";

describe("clopperPearson", () => {
  it("put back, leaves (1 - level) / 2 in the tail beyond the count", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const { lower, upper } = clopperPearson(k, n, confidence);
        const tail = (1 - confidence) / 2;
        // A limit within 1e-8 of 1 leaves only eight digits of its complement
        if (k > 0) expectRelative(binomialAtLeast(k, n, lower), tail, 1e-7);
        if (k < n) expectRelative(binomialAtMost(k, n, upper), tail, 1e-7);
      }),
    );
  });

  it("covers the truth at least as often as it says, by counting all outcomes", () => {
    const n = 15;
    const intervals = Array.from({ length: n + 1 }, (_, k) => clopperPearson(k, n, 0.9));
    for (let truth = 0.01; truth < 1; truth += 0.01) {
      let covered = 0;
      for (const [k, { lower, upper }] of intervals.entries()) {
        const probability = binomialAtMost(k, n, truth) - binomialAtMost(k - 1, n, truth);
        if (lower <= truth && truth <= upper) covered += probability;
      }
      expect(covered).toBeGreaterThanOrEqual(0.9);
    }
  });

  it("is exactly 0 and 1 at the ends", () => {
    expect(clopperPearson(0, 20, 0.95).lower).toBe(0);
    expect(clopperPearson(20, 20, 0.95).upper).toBe(1);
    expectRelative(clopperPearson(0, 1, 0.95).upper, 0.975, 1e-14);
  });

  it("keeps the digits of 1 in 1,000,000: lower limit 1 - (1 - tail)^(1/n)", () => {
    expectRelative(clopperPearson(1, 1e6, 0.95).lower, -Math.expm1(Math.log1p(-0.025) / 1e6), 1e-12);
  });

  it("is wider than Wilson's inside", () => {
    for (const [k, n] of [
      [3, 10],
      [50, 100],
    ] as const) {
      expect(clopperPearson(k, n, 0.95).lower).toBeLessThan(wilson(k, n, 0.95).lower);
      expect(clopperPearson(k, n, 0.95).upper).toBeGreaterThan(wilson(k, n, 0.95).upper);
    }
  });

  it.each([
    [3, 2, 0.95, "k must be a whole number from 0 to n = 2 but is 3"],
    [-1, 2, 0.95, "k must be a whole number from 0 to n = 2 but is -1"],
    [0.5, 2, 0.95, "k must be a whole number from 0 to n = 2 but is 0.5"],
    [0, 0, 0.95, "n must be a whole number of 1 or more but is 0"],
    [0, 1.5, 0.95, "n must be a whole number of 1 or more but is 1.5"],
    [1, 2, 1, "level must be above 0 and below 1 but is 1"],
    [1, 2, 0, "level must be above 0 and below 1 but is 0"],
    [1, 2, Number.NaN, "level must be above 0 and below 1 but is NaN"],
  ])("refuses %d of %d at %d", (k, n, confidence, message) => {
    expect(() => clopperPearson(k, n, confidence)).toThrow(new RangeError(message));
  });

  it("refuses a one-sided tail that is no probability", () => {
    expect(() => clopperPearsonLower(1, 2, 0)).toThrow(
      "tail probability must be above 0 and below 1 but is 0",
    );
    expect(() => clopperPearsonUpper(1, 2, 1)).toThrow(
      "tail probability must be above 0 and below 1 but is 1",
    );
  });
});
