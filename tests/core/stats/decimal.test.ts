import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  complement,
  decimalComplement,
  decimalOf,
  decimalToNumber,
} from "../../../src/core/stats/decimal.ts";

describe("decimalOf", () => {
  it.each([
    [0.9, 9n, 1],
    [0.05, 5n, 2],
    [1e-7, 1n, 7],
    [2.5e-9, 25n, 10],
    [12, 12n, 0],
    [1e21, 10n ** 21n, 0],
  ])("reads %d as it is written", (x, digits, scale) => {
    expect(decimalOf(x)).toEqual({ digits, scale });
  });

  it("reads back as the same double", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (x) => {
        expect(decimalToNumber(decimalOf(x))).toBe(Math.abs(x));
      }),
    );
  });

  it("refuses what is not finite", () => {
    expect(() => decimalOf(Number.NaN)).toThrow(new RangeError("a decimal must be finite but is NaN"));
  });
});

describe("complement", () => {
  it("is of the decimals, not of the doubles", () => {
    expect(complement(0.9)).toBe(0.1);
    expect(1 - 0.9).not.toBe(0.1);
    expect(complement(0.999999999999)).toBe(1e-12);
  });

  it("taken twice on the exact decimals is the number itself", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-10, max: 1, noNaN: true }), (x) => {
        expect(decimalToNumber(decimalComplement(decimalComplement(decimalOf(x))))).toBe(x);
      }),
    );
  });
});
