import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { incompleteBeta } from "../../../src/core/stats/incomplete-beta.ts";
import { jeffreys, jeffreysLower, jeffreysMean, jeffreysUpper } from "../../../src/core/stats/jeffreys.ts";
import { expectRelative } from "./close-to.ts";
import { level, sample } from "./samples.ts";

describe("jeffreys", () => {
  it("put back, leaves (1 - level) / 2 of the posterior in each tail", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const { lower, upper } = jeffreys(k, n, confidence);
        const tail = (1 - confidence) / 2;
        // A limit within 1e-8 of 1 leaves only eight digits of its complement
        if (k > 0) expectRelative(incompleteBeta(lower, 1 - lower, k + 0.5, n - k + 0.5).lower, tail, 1e-7);
        if (k < n) expectRelative(incompleteBeta(upper, 1 - upper, k + 0.5, n - k + 0.5).upper, tail, 1e-7);
      }),
    );
  });

  it("has its posterior mean inside", () => {
    fc.assert(
      fc.property(sample, ({ k, n }) => {
        const { lower, upper } = jeffreys(k, n, 0.95);
        expect(jeffreysMean(k, n)).toBeGreaterThan(lower);
        expect(jeffreysMean(k, n)).toBeLessThan(upper);
      }),
    );
    expect(jeffreysMean(1, 1)).toBe(0.75);
  });

  it("refuses a one-sided tail that is no probability", () => {
    expect(() => jeffreysLower(1, 2, 0)).toThrow("tail probability must be above 0 and below 1 but is 0");
    expect(() => jeffreysUpper(1, 2, 1)).toThrow("tail probability must be above 0 and below 1 but is 1");
    expect(() => jeffreysMean(3, 2)).toThrow("k must be a whole number from 0 to n = 2 but is 3");
  });
});
