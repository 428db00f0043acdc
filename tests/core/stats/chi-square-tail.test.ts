import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chiSquareTail } from "../../../src/core/stats/chi-square-tail.ts";
import { expectRelative } from "./close-to.ts";

describe("chiSquareTail", () => {
  // Outside values: mpmath 1.3.0 gammainc at 60 digits
  it.each([
    [3.5, 1, 0.06136882913940217],
    [10, 2, 0.006737946999085467],
    [85.25, 1, 2.629284726085048e-20],
    [300, 5, 1.0015302305957845e-62],
    [300, 100, 7.412100857322876e-22],
    [12.25, 7, 0.09263145928859139],
  ])("above %d with %d degrees of freedom", (x, df, wanted) => {
    expectRelative(chiSquareTail(x, df), wanted, 1e-12);
  });

  it("is exp(-x/2) with two degrees of freedom", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1400, noNaN: true }), (x) => {
        expectRelative(chiSquareTail(x, 2), Math.exp(-x / 2), 1e-14);
      }),
    );
  });

  it("falls with x and rises with the degrees of freedom", () => {
    for (const df of [1, 2, 3, 8, 31]) {
      expect(chiSquareTail(5, df)).toBeLessThan(chiSquareTail(4, df));
      expect(chiSquareTail(5, df)).toBeLessThan(chiSquareTail(5, df + 1));
    }
  });

  it("is 1 at 0 and 0 at infinity", () => {
    expect(chiSquareTail(0, 3)).toBe(1);
    expect(chiSquareTail(Number.POSITIVE_INFINITY, 3)).toBe(0);
  });

  it("refuses what is no chi-square", () => {
    expect(() => chiSquareTail(-1, 1)).toThrow(new RangeError("chi-square must be 0 or more but is -1"));
    expect(() => chiSquareTail(1, 0)).toThrow(
      new RangeError("degrees of freedom must be a whole number above 0 but are 0"),
    );
  });
});
