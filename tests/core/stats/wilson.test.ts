import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { twoSidedNormalQuantile } from "../../../src/core/stats/normal-quantile.ts";
import { wilson, wilsonLower, wilsonUpper } from "../../../src/core/stats/wilson.ts";
import { wilsonCorrected } from "../../../src/core/stats/wilson-corrected.ts";
import { expectRelative } from "./close-to.ts";
import { level, sample } from "./samples.ts";

describe("wilson", () => {
  it("put back, its limits are z standard errors of their own from the observed rate", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const z = twoSidedNormalQuantile(confidence);
        const { lower, upper } = wilson(k, n, confidence);
        if (k > 0) expectRelative((k / n - lower) ** 2, (z * z * lower * (1 - lower)) / n, 1e-9);
        if (k < n) expectRelative((upper - k / n) ** 2, (z * z * upper * (1 - upper)) / n, 1e-9);
      }),
    );
  });

  it("one-sided at confidence C has the end of the two-sided one at 2C - 1", () => {
    fc.assert(
      fc.property(sample, fc.double({ min: 0.55, max: 0.9999, noNaN: true }), ({ k, n }, confidence) => {
        const both = wilson(k, n, 2 * confidence - 1);
        expect(Math.abs(wilsonLower(k, n, confidence) - both.lower)).toBeLessThan(1e-12);
        expect(Math.abs(wilsonUpper(k, n, confidence) - both.upper)).toBeLessThan(1e-12);
      }),
    );
  });

  it("one-sided below one half: the bounds change sides", () => {
    expectRelative(wilsonUpper(3, 10, 0.2), wilsonLower(3, 10, 0.8), 1e-12);
    expect(wilsonUpper(3, 10, 0.5)).toBeCloseTo(0.3, 14);
  });

  it("refuses a confidence outside (0, 1)", () => {
    expect(() => wilsonUpper(1, 2, 1)).toThrow(
      new RangeError("confidence must be above 0 and below 1 but is 1"),
    );
    expect(() => wilsonLower(1, 2, 0)).toThrow(
      new RangeError("confidence must be above 0 and below 1 but is 0"),
    );
  });
});

describe("wilsonCorrected", () => {
  it("put back, its limits are z standard errors from the observed rate moved by half a count", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const z = twoSidedNormalQuantile(confidence);
        const { lower, upper } = wilsonCorrected(k, n, confidence);
        if (k > 0) expectRelative(((k - 0.5) / n - lower) ** 2, (z * z * lower * (1 - lower)) / n, 1e-8);
        if (k < n) expectRelative((upper - (k + 0.5) / n) ** 2, (z * z * upper * (1 - upper)) / n, 1e-8);
      }),
    );
  });

  it("holds the uncorrected one", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const plain = wilson(k, n, confidence);
        const corrected = wilsonCorrected(k, n, confidence);
        expect(corrected.lower).toBeLessThanOrEqual(plain.lower);
        expect(corrected.upper).toBeGreaterThanOrEqual(plain.upper);
      }),
    );
  });
});
