import normal from "@stdlib/stats-base-dists-normal";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normalQuantile, twoSidedNormalQuantile } from "../../../src/core/stats/normal-quantile.ts";
import { expectRelative } from "./close-to.ts";

describe("normalQuantile", () => {
  // Outside values: mpmath 1.3.0 at 60 digits, root of erfc(-z/√2)/2 = p
  it.each([
    [0.025, -1.9599639845400543],
    [1e-10, -6.361340902404057],
    [1e-20, -9.262340089798407],
    [1e-300, -37.0470962993612],
  ])("at %d", (p, wanted) => {
    expectRelative(normalQuantile(p), wanted, 1e-14);
  });

  it("put back into the distribution, gives the probability", () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: -0.31, noNaN: true }), (exponent) => {
        const p = 10 ** exponent;
        expectRelative(normal.cdf(normalQuantile(p), 0, 1), p, 1e-11);
      }),
    );
  });

  it("is odd about one half", () => {
    expect(normalQuantile(0.5)).toBeCloseTo(0, 15);
    expectRelative(normalQuantile(0.75), -normalQuantile(0.25), 1e-15);
  });

  it("gives 1.959964 for 95 % on two sides", () => {
    expectRelative(twoSidedNormalQuantile(0.95), 1.9599639845400543, 1e-14);
  });

  it("refuses what has no quantile", () => {
    expect(() => normalQuantile(0)).toThrow(new RangeError("probability must be in (0, 1) but is 0"));
    expect(() => twoSidedNormalQuantile(1)).toThrow(new RangeError("level must be in (0, 1) but is 1"));
  });
});
