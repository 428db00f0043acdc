import { describe, expect, it } from "vitest";
import { logBinomialProbability } from "../../../src/core/stats/binomial-probability.ts";
import { deviancePart } from "../../../src/core/stats/deviance-part.ts";
import { stirlingError } from "../../../src/core/stats/stirling-error.ts";
import { expectRelative } from "./close-to.ts";

// Outside values: mpmath 1.3.0 at 60 digits, from the defining formulae

describe("stirlingError", () => {
  it.each([
    [0.5, 0.15342640972002736],
    [1, 0.08106146679532726],
    [15, 0.005554733551962801],
    [15.5, 0.005375599032926835],
    [100, 0.0008333305556349147],
    [1e6, 8.333333333333056e-8],
  ])("at %d", (x, wanted) => {
    expectRelative(stirlingError(x), wanted, 1e-12);
  });
});

describe("deviancePart", () => {
  it.each([
    [10, 11, 0.0468982019567514],
    [1e6, 1e6 + 1, 4.999996666669166e-7],
    [1, 5, 2.3905620875658995],
    [5, 1, 4.047189562170502],
  ])("of %d about %d", (x, m, wanted) => {
    expectRelative(deviancePart(x, m), wanted, 1e-14);
  });

  it("is 0 at its centre", () => {
    expect(deviancePart(7, 7)).toBe(0);
  });
});

describe("logBinomialProbability", () => {
  it.each([
    [3, 10, 0.25, -1.3851658477400923],
    [500_000, 1e6, 0.5, -7.133546881626865],
    [3, 1e6, 0.000003, -1.495921103221726],
    [0, 1e9, 1e-9, -1.0000000005],
    [2.5, 7.5, 0.125, -2.3054589051503256],
  ])("of %d in %d at %d", (k, n, p, wanted) => {
    expectRelative(logBinomialProbability(k, n - k, p), wanted, 1e-13);
  });

  it("sums to 1 over all counts", () => {
    for (const [n, p] of [
      [1, 0.3],
      [40, 0.01],
      [1000, 0.7],
    ] as const) {
      let sum = 0;
      for (let k = 0; k <= n; k += 1) sum += Math.exp(logBinomialProbability(k, n - k, p));
      expectRelative(sum, 1, 1e-13);
    }
  });

  it("is certain at the ends", () => {
    expect(logBinomialProbability(0, 5, 0)).toBe(0);
    expect(logBinomialProbability(5, 0, 1)).toBe(0);
    expect(logBinomialProbability(1, 4, 0)).toBe(Number.NEGATIVE_INFINITY);
    expect(logBinomialProbability(4, 1, 1)).toBe(Number.NEGATIVE_INFINITY);
  });
});
