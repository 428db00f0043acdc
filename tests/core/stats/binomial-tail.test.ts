import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { logBinomialProbability } from "../../../src/core/stats/binomial-probability.ts";
import { binomialAtLeast, binomialAtMost } from "../../../src/core/stats/binomial-tail.ts";
import { expectRelative } from "./close-to.ts";

const sample = fc.integer({ min: 1, max: 200 }).chain((n) => {
  return fc.record({
    n: fc.constant(n),
    k: fc.integer({ min: 0, max: n }),
    p: fc.double({ min: 0.001, max: 0.999, noNaN: true }),
  });
});

describe("binomial tails", () => {
  it("are sums of probabilities", () => {
    fc.assert(
      fc.property(sample, ({ k, n, p }) => {
        let atMost = 0;
        for (let i = 0; i <= k; i += 1) atMost += Math.exp(logBinomialProbability(i, n - i, p));
        expectRelative(binomialAtMost(k, n, p), Math.min(1, atMost), 1e-11);
      }),
    );
  });

  it("mirror: k failures or fewer are n - k passes or more", () => {
    fc.assert(
      fc.property(sample, ({ k, n, p }) => {
        expectRelative(binomialAtMost(k, n, p), binomialAtLeast(n - k, n, 1 - p, p), 1e-12);
      }),
    );
  });

  it("are 0 or 1 beyond the possible counts", () => {
    expect(binomialAtMost(-1, 5, 0.3)).toBe(0);
    expect(binomialAtMost(5, 5, 0.3)).toBe(1);
    expect(binomialAtLeast(0, 5, 0.3)).toBe(1);
    expect(binomialAtLeast(6, 5, 0.3)).toBe(0);
  });
});
