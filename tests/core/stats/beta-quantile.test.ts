import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { betaQuantile } from "../../../src/core/stats/beta-quantile.ts";
import { incompleteBeta } from "../../../src/core/stats/incomplete-beta.ts";
import { expectRelative } from "./close-to.ts";

const shape = fc.double({ min: 0.5, max: 1e4, noNaN: true });
const probability = fc.double({ min: 1e-8, max: 1 - 1e-8, noNaN: true });

describe("betaQuantile", () => {
  it("is the probability itself for Beta(1, 1), and p^(1/a) for Beta(a, 1)", () => {
    fc.assert(
      fc.property(probability, fc.integer({ min: 1, max: 1000 }), (p, a) => {
        expectRelative(betaQuantile(p, 1, 1), p, 1e-13);
        expectRelative(betaQuantile(p, a, 1), p ** (1 / a), 1e-13);
      }),
    );
  });

  it("put back into the distribution, gives the probability", () => {
    fc.assert(
      fc.property(probability, shape, shape, (p, a, b) => {
        const tails = incompleteBeta(betaQuantile(p, a, b), betaQuantile(p, b, a, "upper"), a, b);
        expectRelative(p <= 0.5 ? tails.lower : tails.upper, p <= 0.5 ? p : 1 - p, 1e-10);
      }),
    );
  });

  it("mirrors: the quantile of p for (a, b) is 1 less that of the upper p for (b, a)", () => {
    fc.assert(
      fc.property(probability, shape, shape, (p, a, b) => {
        expect(Math.abs(betaQuantile(p, a, b) - (1 - betaQuantile(p, b, a, "upper")))).toBeLessThan(1e-14);
      }),
    );
  });

  it("rises with the probability", () => {
    fc.assert(
      fc.property(probability, probability, shape, shape, (p, q, a, b) => {
        fc.pre(q - p > 1e-6);
        expect(betaQuantile(p, a, b)).toBeLessThan(betaQuantile(q, a, b));
      }),
    );
  });

  it("keeps its digits in far tails", () => {
    expectRelative(betaQuantile(1e-300, 1, 1), 1e-300, 1e-12);
    expectRelative(betaQuantile(1e-20, 149, 3), 1 - betaQuantile(1e-20, 3, 149, "upper"), 1e-14);
  });

  it("is an end of the range at probability 0 or 1", () => {
    expect(betaQuantile(0, 2, 3)).toBe(0);
    expect(betaQuantile(1, 2, 3)).toBe(1);
    expect(betaQuantile(0, 2, 3, "upper")).toBe(1);
  });

  it("refuses what is not a probability or a shape", () => {
    expect(() => betaQuantile(1.5, 1, 1)).toThrow(new RangeError("probability must be in [0, 1] but is 1.5"));
    expect(() => betaQuantile(0.5, 0, 1)).toThrow(
      new RangeError("shapes must be finite and above 0 but are 0 and 1"),
    );
  });
});
