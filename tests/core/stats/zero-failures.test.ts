import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clopperPearson } from "../../../src/core/stats/clopper-pearson.ts";
import { jeffreys } from "../../../src/core/stats/jeffreys.ts";
import { midP } from "../../../src/core/stats/mid-p.ts";
import { oneSidedBounds } from "../../../src/core/stats/one-sided-bounds.ts";
import { ruleOfThree } from "../../../src/core/stats/rule-of-three.ts";
import { wilson } from "../../../src/core/stats/wilson.ts";
import { expectRelative } from "./close-to.ts";
import { sample } from "./samples.ts";

describe("oneSidedBounds", () => {
  it("are the ends of the two-sided intervals at level 2C - 1", () => {
    fc.assert(
      fc.property(sample, fc.constantFrom(0.75, 0.875, 0.96875), ({ k, n }, confidence) => {
        const bounds = oneSidedBounds(k, n, confidence);
        const pairs = [
          [bounds.clopperPearson, clopperPearson],
          [bounds.wilson, wilson],
          [bounds.jeffreys, jeffreys],
          [bounds.midP, midP],
        ] as const;
        for (const [bound, method] of pairs) {
          const both = method(k, n, 2 * confidence - 1);
          expectRelative(bound.lower, both.lower, 1e-12);
          expectRelative(bound.upper, both.upper, 1e-12);
        }
      }),
    );
  });

  it("refuses a confidence outside (0, 1)", () => {
    expect(() => oneSidedBounds(1, 2, 1)).toThrow(
      new RangeError("confidence must be above 0 and below 1 but is 1"),
    );
  });
});

describe("ruleOfThree", () => {
  it("put back: at the exact bound n passes have probability 1 - confidence", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0.5, max: 0.999, noNaN: true }),
        (n, confidence) => {
          const { exactOneSided, exactTwoSidedUpper } = ruleOfThree(n, confidence);
          expectRelative(Math.exp(n * Math.log1p(-exactOneSided)), 1 - confidence, 1e-9);
          expectRelative(Math.exp(n * Math.log1p(-exactTwoSidedUpper)), (1 - confidence) / 2, 1e-9);
        },
      ),
    );
  });

  it("is on the safe side of the exact 95 % bound", () => {
    for (const n of [1, 10, 30, 1000, 1e6]) {
      const { ruleOfThree: simple, exactOneSided } = ruleOfThree(n, 0.95);
      expect(simple).toBeGreaterThan(exactOneSided);
    }
  });

  it("is clipped to 1 for fewer than three tests, and is no rule at another confidence", () => {
    expect(ruleOfThree(2, 0.95)).toMatchObject({ ruleOfThree: 1.5, ruleOfThreeClipped: 1 });
    expect(ruleOfThree(10, 0.9)).toMatchObject({ ruleOfThree: null, ruleOfThreeClipped: null });
  });

  it("refuses what is no number of tests", () => {
    expect(() => ruleOfThree(0, 0.95)).toThrow(
      new RangeError("n must be a whole number of 1 or more but is 0"),
    );
    expect(() => ruleOfThree(1, 0)).toThrow(
      new RangeError("confidence must be above 0 and below 1 but is 0"),
    );
  });
});
