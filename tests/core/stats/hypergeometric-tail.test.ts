import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  hypergeometricAtLeast,
  hypergeometricAtMost,
  hypergeometricProbability,
} from "../../../src/core/stats/hypergeometric-tail.ts";
import { expectRelative } from "./close-to.ts";

const draw = fc.integer({ min: 1, max: 300 }).chain((size) => {
  return fc.record({
    size: fc.constant(size),
    bad: fc.integer({ min: 0, max: size }),
    drawn: fc.integer({ min: 1, max: size }),
  });
});

describe("hypergeometric tails", () => {
  it("of no bad item among 2 of 5 with 3 bad: 1/10, by counting", () => {
    expectRelative(hypergeometricAtMost(0, { size: 5, bad: 3, drawn: 2 }), 0.1, 1e-14);
    expectRelative(hypergeometricProbability(1, { size: 5, bad: 3, drawn: 2 }), 0.6, 1e-14);
    expectRelative(hypergeometricAtLeast(2, { size: 5, bad: 3, drawn: 2 }), 0.3, 1e-14);
  });

  it("are sums of probabilities, and those sum to 1", () => {
    fc.assert(
      fc.property(draw, (one) => {
        let sum = 0;
        const least = Math.max(0, one.drawn + one.bad - one.size);
        for (let k = least; k <= Math.min(one.drawn, one.bad); k += 1) {
          sum += hypergeometricProbability(k, one);
          expectRelative(hypergeometricAtMost(k, one), sum, 1e-11);
        }
        expectRelative(sum, 1, 1e-12);
      }),
    );
  });

  it("do not care which of bad and drawn is which", () => {
    fc.assert(
      fc.property(draw, fc.nat(300), (one, k) => {
        const other = { size: one.size, bad: one.drawn, drawn: one.bad };
        expectRelative(hypergeometricAtMost(k, one), hypergeometricAtMost(k, other), 1e-11);
      }),
    );
  });

  it("are 0 or 1 beyond the possible counts", () => {
    const all = { size: 10, bad: 4, drawn: 8 };
    expect(hypergeometricAtMost(1, all)).toBe(0);
    expect(hypergeometricAtMost(4, all)).toBe(1);
    expect(hypergeometricAtLeast(2, all)).toBe(1);
    expect(hypergeometricAtLeast(5, all)).toBe(0);
  });
});
