import t from "@stdlib/stats-base-dists-t";
import { describe, expect, it } from "vitest";
import { noncentralTQuantile, noncentralTTail } from "../../../src/core/stats/noncentral-t-quantile.ts";
import { expectRelative } from "./close-to.ts";

describe("noncentral t", () => {
  // Outside values: mpmath 1.3.0 at 25 digits, integral over the chi
  it.each([
    [1, 3, 2, 0.15734943397003653],
    [4, 3, 2, 0.8160500042448479],
    [10, 9, 6, 0.935315979671736],
    [-1, 5, 0.5, 0.08244409105672346],
  ])("P(T <= %d) with %d degrees of freedom about %d", (at, df, delta, wanted) => {
    expectRelative(noncentralTTail(at, df, delta, "lower"), wanted, 1e-11);
    expectRelative(noncentralTTail(at, df, delta, "upper"), 1 - wanted, 1e-10);
  });

  it("is Student's t about 0", () => {
    for (const df of [2, 5, 40]) {
      expectRelative(noncentralTQuantile(0.025, df, 0), t.quantile(0.025, df), 1e-10);
    }
  });

  it("put back into the distribution, gives the probability, also for large noncentralities", () => {
    for (const [p, df, delta] of [
      [0.025, 2, 3],
      [0.975, 2, 3],
      [0.1, 199, 28],
      [0.999, 4999, 138],
    ] as const) {
      const tail = noncentralTTail(noncentralTQuantile(p, df, delta), df, delta, "lower");
      expectRelative(tail, p, 1e-10);
    }
  });

  it("refuses what has no quantile", () => {
    expect(() => noncentralTQuantile(0, 3, 1)).toThrow(
      new RangeError("probability must be above 0 and below 1 but is 0"),
    );
    expect(() => noncentralTQuantile(0.5, 0, 1)).toThrow(
      new RangeError("degrees of freedom must be above 0 but are 0"),
    );
  });
});
