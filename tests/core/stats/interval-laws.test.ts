import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { agrestiCoull } from "../../../src/core/stats/agresti-coull.ts";
import { clopperPearson } from "../../../src/core/stats/clopper-pearson.ts";
import type { Interval } from "../../../src/core/stats/interval.ts";
import { jeffreys } from "../../../src/core/stats/jeffreys.ts";
import { midP } from "../../../src/core/stats/mid-p.ts";
import { wilson } from "../../../src/core/stats/wilson.ts";
import { wilsonCorrected } from "../../../src/core/stats/wilson-corrected.ts";
import { level, sample } from "./samples.ts";

const methods: readonly [string, (k: number, n: number, level: number) => Interval][] = [
  ["clopperPearson", clopperPearson],
  ["wilson", wilson],
  ["wilsonCorrected", wilsonCorrected],
  ["jeffreys", jeffreys],
  ["agrestiCoull", agrestiCoull],
  ["midP", midP],
];

describe.each(methods)("%s", (_name, interval) => {
  it("mirrors: the interval of n - k is 1 less that of k", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const one = interval(k, n, confidence);
        const other = interval(n - k, n, confidence);
        expect(Math.abs(one.lower - (1 - other.upper))).toBeLessThan(1e-13);
        expect(Math.abs(one.upper - (1 - other.lower))).toBeLessThan(1e-13);
      }),
    );
  });

  it("lies in [0, 1] with its ends in order", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const { lower, upper } = interval(k, n, confidence);
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(upper).toBeLessThanOrEqual(1);
        expect(lower).toBeLessThan(upper);
      }),
    );
  });

  it("moves up with the count", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        fc.pre(k < n);
        const one = interval(k, n, confidence);
        const more = interval(k + 1, n, confidence);
        expect(more.lower).toBeGreaterThanOrEqual(one.lower);
        expect(more.upper).toBeGreaterThanOrEqual(one.upper);
      }),
    );
  });

  it("widens with the level", () => {
    fc.assert(
      fc.property(sample, level, level, ({ k, n }, a, b) => {
        fc.pre(b - a > 1e-6);
        const narrow = interval(k, n, a);
        const wide = interval(k, n, b);
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower);
        expect(wide.upper).toBeGreaterThanOrEqual(narrow.upper);
      }),
    );
  });

  it("refuses counts that are not k of n, and levels outside (0, 1)", () => {
    expect(() => interval(5, 4, 0.95)).toThrow(
      new RangeError("k must be a whole number from 0 to n = 4 but is 5"),
    );
    expect(() => interval(0, 0, 0.95)).toThrow(
      new RangeError("n must be a whole number of 1 or more but is 0"),
    );
    expect(() => interval(1, 4, 1.5)).toThrow(/^level must be .* but is 1\.5$/);
  });
});

describe("without a failure, or with nothing but failures", () => {
  it.each(methods.filter(([name]) => name !== "agrestiCoull"))(
    "%s ends at exactly 0 or 1",
    (_name, interval) => {
      fc.assert(
        fc.property(fc.integer({ min: 1, max: 1e6 }), level, (n, confidence) => {
          expect(interval(0, n, confidence).lower).toBe(0);
          expect(interval(n, n, confidence).upper).toBe(1);
        }),
      );
    },
  );
});
