import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conditionalOddsRatio } from "../../../src/core/stats/conditional-odds-ratio.ts";
import { fisherExact } from "../../../src/core/stats/fisher-exact.ts";
import { conditionalWeights } from "../../../src/core/stats/noncentral-hypergeometric.ts";
import type { TwoGroups } from "../../../src/core/stats/two-groups.ts";
import { expectRelative } from "./close-to.ts";
import { level, twoGroups } from "./samples.ts";

const exchanged = ({ x1, n1, x2, n2 }: TwoGroups) => ({ x1: x2, n1: n2, x2: x1, n2: n1 });
const inverted = ({ x1, n1, x2, n2 }: TwoGroups) => ({ x1: n1 - x1, n1, x2: n2 - x2, n2 });

/** Tails and mean of x1 at an odds ratio, from the weights by plain summation. */
function atOddsRatio({ x1, n1, x2, n2 }: TwoGroups, oddsRatio: number) {
  const { least, logWeights } = conditionalWeights(n1, n2, x1 + x2);
  const terms = [...logWeights].map((w, i) => w + (least + i) * Math.log(oddsRatio));
  const peak = Math.max(...terms);
  const weights = terms.map((term) => Math.exp(term - peak));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const over = (chosen: (x: number) => number) =>
    weights.reduce((sum, w, i) => sum + w * chosen(least + i), 0) / total;
  return {
    mean: over((x) => x),
    atLeast: over((x) => (x >= x1 ? 1 : 0)),
    atMost: over((x) => (x <= x1 ? 1 : 0)),
  };
}

describe("conditionalWeights", () => {
  it("are products of binomial coefficients: 3 of each of two groups, 3 events, 1 : 9 : 9 : 1", () => {
    const { least, logWeights } = conditionalWeights(3, 3, 3);
    expect(least).toBe(0);
    const weights = [...logWeights].map((w) => Math.exp(w - (logWeights[0] ?? 0)));
    for (const [i, wanted] of [1, 9, 9, 1].entries()) expectRelative(weights[i] ?? 0, wanted, 1e-14);
  });
});

describe("fisherExact", () => {
  it("counts the table itself in both tails, so that they sum to 1 and its probability", () => {
    fc.assert(
      fc.property(twoGroups, (groups) => {
        const { less, greater, twoSided, midPTwoSided } = fisherExact(groups);
        const observed = less + greater - 1;
        expect(observed).toBeGreaterThan(-1e-12);
        expect(twoSided).toBeLessThanOrEqual(1);
        expect(twoSided).toBeGreaterThanOrEqual(Math.min(less, greater) * (1 - 1e-12));
        expect(midPTwoSided).toBeLessThanOrEqual(twoSided);
      }),
    );
  });

  it("exchanges less and greater with the groups, and with events and non-events", () => {
    fc.assert(
      fc.property(twoGroups, (groups) => {
        const one = fisherExact(groups);
        for (const other of [fisherExact(exchanged(groups)), fisherExact(inverted(groups))]) {
          expectRelative(other.less, one.greater, 1e-9);
          expectRelative(other.greater, one.less, 1e-9);
          expectRelative(other.twoSided, one.twoSided, 1e-9);
        }
      }),
    );
  });

  it("finds nothing where a margin is empty", () => {
    expect(fisherExact({ x1: 0, n1: 10, x2: 0, n2: 10 })).toEqual({
      twoSided: 1,
      less: 1,
      greater: 1,
      midPTwoSided: 0.5,
    });
  });

  it("refuses counts that cannot be, naming the group", () => {
    expect(() => fisherExact({ x1: 1, n1: 2, x2: 5, n2: 4 })).toThrow(
      new RangeError("group 2: k must be a whole number from 0 to n = 4 but is 5"),
    );
    expect(() => fisherExact({ x1: 1, n1: 0, x2: 1, n2: 4 })).toThrow(
      new RangeError("group 1: n must be a whole number of 1 or more but is 0"),
    );
  });
});

describe("conditionalOddsRatio", () => {
  it("put back: the estimate expects what was seen, the limits leave (1 - level) / 2", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const { estimate, lower, upper } = conditionalOddsRatio(groups, confidence);
        const tail = (1 - confidence) / 2;
        if (estimate !== null && estimate > 0 && estimate < Number.POSITIVE_INFINITY) {
          expectRelative(atOddsRatio(groups, estimate).mean, groups.x1, 1e-9);
        }
        if (lower > 0) expectRelative(atOddsRatio(groups, lower).atLeast, tail, 1e-9);
        if (upper < Number.POSITIVE_INFINITY) expectRelative(atOddsRatio(groups, upper).atMost, tail, 1e-9);
      }),
    );
  });

  it("is inverted with the groups", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const one = conditionalOddsRatio(groups, confidence);
        const other = conditionalOddsRatio(exchanged(groups), confidence);
        if (one.lower > 0) expectRelative(1 / other.upper, one.lower, 1e-9);
        else expect(other.upper).toBe(Number.POSITIVE_INFINITY);
        if (other.lower > 0) expectRelative(1 / other.lower, one.upper, 1e-9);
        else expect(one.upper).toBe(Number.POSITIVE_INFINITY);
      }),
    );
  });

  it("says that it cannot estimate where a margin is empty, and gives ends where the table is extreme", () => {
    expect(conditionalOddsRatio({ x1: 10, n1: 10, x2: 10, n2: 10 }, 0.95)).toEqual({
      estimate: null,
      lower: 0,
      upper: Number.POSITIVE_INFINITY,
    });
    expect(conditionalOddsRatio({ x1: 0, n1: 10, x2: 4, n2: 10 }, 0.95)).toMatchObject({
      estimate: 0,
      lower: 0,
    });
    expect(conditionalOddsRatio({ x1: 10, n1: 10, x2: 4, n2: 10 }, 0.95)).toMatchObject({
      estimate: Number.POSITIVE_INFINITY,
      upper: Number.POSITIVE_INFINITY,
    });
  });

  it("refuses a level outside (0, 1)", () => {
    expect(() => conditionalOddsRatio({ x1: 1, n1: 2, x2: 1, n2: 2 }, 1)).toThrow(
      new RangeError("level must be above 0 and below 1 but is 1"),
    );
  });
});
