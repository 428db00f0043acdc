import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { incompleteBeta } from "../../../src/core/stats/incomplete-beta.ts";
import { expectRelative } from "./close-to.ts";

const shape = fc.double({ min: 0.1, max: 1e4, noNaN: true });
const point = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });

describe("incompleteBeta", () => {
  // Outside values: mpmath 1.3.0 betainc at 60 digits
  it.each([
    [0.25, 2, 3, 0.26171875],
    [0.125, 0.5, 0.5, 0.23005345616261588],
    [1 / 1024, 1, 20, 0.01935110919485281],
    [0.5, 30, 70, 0.9999769687851782],
  ])("at %d with shapes %d and %d", (x, a, b, wanted) => {
    expectRelative(incompleteBeta(x, 1 - x, a, b).lower, wanted, 1e-13);
  });

  it("is x^a where b is 1, and 1 - y^b where a is 1", () => {
    fc.assert(
      fc.property(point, fc.double({ min: 0.1, max: 50, noNaN: true }), (x, s) => {
        expectRelative(incompleteBeta(x, 1 - x, s, 1).lower, x ** s, 1e-12);
        expectRelative(incompleteBeta(x, 1 - x, 1, s).upper, (1 - x) ** s, 1e-12);
      }),
    );
  });

  it("exchanges its tails with its shapes", () => {
    fc.assert(
      fc.property(point, shape, shape, (x, a, b) => {
        const one = incompleteBeta(x, 1 - x, a, b);
        const other = incompleteBeta(1 - x, x, b, a);
        expectRelative(one.lower, other.upper, 1e-12);
        expectRelative(one.upper, other.lower, 1e-12);
      }),
    );
  });

  it("steps from a to a + 1 by x^a y^b / (a B(a, b)) (DLMF 8.17.20)", () => {
    // With b = 3: 1 / (a B(a, 3)) = (a + 1)(a + 2) / 2
    fc.assert(
      fc.property(point, fc.double({ min: 0.1, max: 100, noNaN: true }), (x, a) => {
        const step = (x ** a * (1 - x) ** 3 * (a + 1) * (a + 2)) / 2;
        const from = incompleteBeta(x, 1 - x, a, 3).lower;
        const to = incompleteBeta(x, 1 - x, a + 1, 3).lower;
        expect(Math.abs(from - to - step)).toBeLessThanOrEqual(1e-12 * Math.max(from, 1e-300));
      }),
    );
  });

  it("has logarithms that go on where the tails underflow", () => {
    const { lower, logLower } = incompleteBeta(1e-10, 1 - 1e-10, 100, 1);
    expect(lower).toBe(0);
    expectRelative(logLower, 100 * Math.log(1e-10), 1e-13);
  });

  it("is 0 and 1 at the ends", () => {
    expect(incompleteBeta(0, 1, 2, 3)).toMatchObject({ lower: 0, upper: 1 });
    expect(incompleteBeta(1, 0, 2, 3)).toMatchObject({ lower: 1, upper: 0 });
  });
});
