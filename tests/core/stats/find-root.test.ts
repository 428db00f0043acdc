import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findRoot } from "../../../src/core/stats/find-root.ts";
import { findRootAround } from "../../../src/core/stats/find-root-around.ts";
import { expectRelative } from "./close-to.ts";

describe("findRoot", () => {
  it("finds the root of x³ - a to the last digits, for every a", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (a) => {
        expectRelative(
          findRoot((x) => x ** 3 - a, 0, a + 1),
          Math.cbrt(a),
          1e-15,
        );
      }),
    );
  });

  it("finds a root at either end", () => {
    expect(findRoot((x) => x - 1, 1, 5)).toBe(1);
    expect(findRoot((x) => x - 5, 1, 5)).toBe(5);
  });

  it("does with infinite values at the ends", () => {
    expectRelative(
      findRoot((x) => 1 / (1 - x) - 1 / x, 0, 1),
      0.5,
      1e-15,
    );
  });

  it("finds the place of a jump", () => {
    expectRelative(
      findRoot((x) => (x < Math.PI ? -1 : 1), 0, 10),
      Math.PI,
      1e-15,
    );
  });

  it("refuses a bracket without a change of sign, with both values", () => {
    expect(() => findRoot((x) => x * x + 1, -1, 2)).toThrow(
      new RangeError("no sign change between -1 and 2: found 2 and 5; a root needs values of opposite sign"),
    );
    expect(() => findRoot(() => Number.NaN, 0, 1)).toThrow(RangeError);
  });
});

describe("findRootAround", () => {
  it("finds a root however far from the start, on either side", () => {
    for (const root of [-1e6, -3, 0.25, 7, 1e9]) {
      expectRelative(
        findRootAround((x) => x - root, 0, 1),
        root,
        1e-15,
      );
    }
  });

  it("refuses a function without a root", () => {
    expect(() => findRootAround(() => -1, 0, 1)).toThrow("no change of sign found from 0");
  });
});
