import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { binomialAtLeast, binomialAtMost } from "../../../src/core/stats/binomial-tail.ts";
import { clopperPearson } from "../../../src/core/stats/clopper-pearson.ts";
import { midP, midPLower, midPUpper } from "../../../src/core/stats/mid-p.ts";
import { expectRelative } from "./close-to.ts";
import { level, sample } from "./samples.ts";

describe("midP", () => {
  it("put back, leaves (1 - level) / 2 in the tail with half the observed count", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const { lower, upper } = midP(k, n, confidence);
        const tail = (1 - confidence) / 2;
        // A limit within 1e-8 of 1 leaves only eight digits of its complement
        if (k > 0) {
          const above = (binomialAtLeast(k, n, lower) + binomialAtLeast(k + 1, n, lower)) / 2;
          expectRelative(above, tail, 1e-7);
        }
        if (k < n) {
          const below = (binomialAtMost(k, n, upper) + binomialAtMost(k - 1, n, upper)) / 2;
          expectRelative(below, tail, 1e-7);
        }
      }),
    );
  });

  it("lies within the exact interval", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const exact = clopperPearson(k, n, confidence);
        const { lower, upper } = midP(k, n, confidence);
        expect(lower).toBeGreaterThanOrEqual(exact.lower);
        expect(upper).toBeLessThanOrEqual(exact.upper);
      }),
    );
  });

  it("is in closed form without a failure: 1 - (2 tail)^(1/n)", () => {
    expectRelative(midPUpper(0, 10, 0.025), 1 - 0.05 ** 0.1, 1e-14);
    expectRelative(midPLower(10, 10, 0.025), 0.05 ** 0.1, 1e-14);
  });

  it("has no proportion to exclude where half the certain count is already below the tail", () => {
    expect(midPUpper(0, 10, 0.6)).toBe(0);
    expect(midPLower(10, 10, 0.6)).toBe(1);
  });

  it("refuses a one-sided tail that is no probability", () => {
    expect(() => midPLower(1, 2, 0)).toThrow("tail probability must be above 0 and below 1 but is 0");
    expect(() => midPUpper(1, 2, 1)).toThrow("tail probability must be above 0 and below 1 but is 1");
  });
});
