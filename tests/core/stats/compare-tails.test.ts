import { describe, expect, it } from "vitest";
import { compareBinomialTail } from "../../../src/core/stats/compare-binomial-tail.ts";
import { compareHypergeometricTail } from "../../../src/core/stats/compare-hypergeometric-tail.ts";
import { smallestWhole } from "../../../src/core/stats/smallest-whole.ts";

describe("compareBinomialTail", () => {
  it("knows a tie that floating point misses: two passes at 0.8 have probability 0.64", () => {
    expect(compareBinomialTail(0, 2, 0.2, 0.64)).toBe(0);
    expect(compareBinomialTail(0, 3, 0.1, 0.729)).toBe(0);
    expect(compareBinomialTail(1, 2, 0.5, 0.75)).toBe(0);
  });

  it("tells the two sides of a tie apart in the fifteenth digit", () => {
    expect(compareBinomialTail(0, 2, 0.2, 0.640000000000001)).toBe(-1);
    expect(compareBinomialTail(0, 2, 0.2, 0.639999999999999)).toBe(1);
  });

  it("agrees with the plain tail away from ties", () => {
    expect(compareBinomialTail(3, 100, 0.1, 0.05)).toBe(-1);
    expect(compareBinomialTail(3, 10, 0.1, 0.05)).toBe(1);
  });
});

describe("compareHypergeometricTail", () => {
  it("knows that one bad item of 20 escapes 19 draws with probability 0.05 exactly", () => {
    expect(compareHypergeometricTail(0, { size: 20, bad: 1, drawn: 19 }, 0.05)).toBe(0);
    expect(compareHypergeometricTail(0, { size: 20, bad: 1, drawn: 18 }, 0.05)).toBe(1);
    expect(compareHypergeometricTail(0, { size: 20, bad: 1, drawn: 20 }, 0.05)).toBe(-1);
  });
});

describe("smallestWhole", () => {
  it("finds the first number that meets a condition, near and far", () => {
    for (const wanted of [3, 4, 5, 17, 1000, 123_456_789]) {
      let calls = 0;
      const found = smallestWhole(3, (n) => {
        calls += 1;
        return n >= wanted;
      });
      expect(found).toBe(wanted);
      expect(calls).toBeLessThan(60);
    }
  });

  it("refuses a condition that nothing meets", () => {
    expect(() => smallestWhole(1, () => false)).toThrow("no whole number from 1 to 2^53 meets the condition");
  });
});
