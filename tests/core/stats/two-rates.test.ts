import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { katzRelativeRisk } from "../../../src/core/stats/katz-relative-risk.ts";
import { koopmanRelativeRisk } from "../../../src/core/stats/koopman-relative-risk.ts";
import { miettinenNurminen } from "../../../src/core/stats/miettinen-nurminen.ts";
import { newcombeDifference } from "../../../src/core/stats/newcombe-difference.ts";
import { twoSidedNormalQuantile } from "../../../src/core/stats/normal-quantile.ts";
import type { TwoGroups } from "../../../src/core/stats/two-groups.ts";
import { woolfOddsRatio } from "../../../src/core/stats/woolf-odds-ratio.ts";
import { expectRelative } from "./close-to.ts";
import { level, twoGroups } from "./samples.ts";

const exchanged = ({ x1, n1, x2, n2 }: TwoGroups) => ({ x1: x2, n1: n2, x2: x1, n2: n1 });
const bad: TwoGroups = { x1: 3, n1: 2, x2: 1, n2: 4 };
const badMessage = "group 1: k must be a whole number from 0 to n = 2 but is 3";

describe.each([
  ["newcombeDifference", newcombeDifference],
  ["miettinenNurminen", miettinenNurminen],
])("%s", (_name, difference) => {
  it("changes sign with the groups", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const one = difference(groups, confidence);
        const other = difference(exchanged(groups), confidence);
        expect(Math.abs(one.lower + other.upper)).toBeLessThan(1e-12);
        expect(Math.abs(one.upper + other.lower)).toBeLessThan(1e-12);
      }),
    );
  });

  it("holds the observed difference, within [-1, 1]", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const observed = groups.x1 / groups.n1 - groups.x2 / groups.n2;
        const { lower, upper } = difference(groups, confidence);
        expect(lower).toBeLessThanOrEqual(observed + 1e-12);
        expect(upper).toBeGreaterThanOrEqual(observed - 1e-12);
        expect(lower).toBeGreaterThanOrEqual(-1 - 1e-12);
        expect(upper).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });

  it("refuses counts that cannot be, naming the group, and levels outside (0, 1)", () => {
    expect(() => difference(bad, 0.95)).toThrow(new RangeError(badMessage));
    expect(() => difference({ ...bad, x1: 1 }, 1)).toThrow("level must be in (0, 1) but is 1");
  });
});

describe("miettinenNurminen", () => {
  it("has the factor N/(N - 1): without it 1/1 against 0/1 would not reach down to -0.587", () => {
    expectRelative(miettinenNurminen({ x1: 1, n1: 1, x2: 0, n2: 1 }, 0.95).lower, -0.586901371245525, 1e-12);
  });

  it("ends at 1 where every one of the first failed and none of the second", () => {
    expect(miettinenNurminen({ x1: 5, n1: 5, x2: 0, n2: 7 }, 0.95).upper).toBe(1);
    expect(miettinenNurminen({ x1: 0, n1: 5, x2: 7, n2: 7 }, 0.95).lower).toBe(-1);
  });

  it("put back for equal groups without an event: d² = z² d (1 - d) / n N / (N - 1)", () => {
    const n = 10;
    const z = twoSidedNormalQuantile(0.95);
    const { upper, lower } = miettinenNurminen({ x1: 0, n1: n, x2: 0, n2: n }, 0.95);
    expectRelative(upper, -lower, 1e-12);
    expectRelative(upper * upper, (z * z * upper * (1 - upper) * (2 * n)) / n / (2 * n - 1), 1e-10);
  });
});

describe("koopmanRelativeRisk", () => {
  it("is inverted with the groups", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const one = koopmanRelativeRisk(groups, confidence);
        const other = koopmanRelativeRisk(exchanged(groups), confidence);
        if (one.lower > 0) expectRelative(1 / other.upper, one.lower, 1e-9);
        else expect(other.upper).toBe(Number.POSITIVE_INFINITY);
        if (other.lower > 0) expectRelative(1 / other.lower, one.upper, 1e-9);
        else expect(one.upper).toBe(Number.POSITIVE_INFINITY);
      }),
    );
  });

  it("put back: Pearson's chi-square at the most likely rates in that ratio is z² (Koopman 1984)", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const z = twoSidedNormalQuantile(confidence);
        const { x1, n1, x2, n2 } = groups;
        const interval = koopmanRelativeRisk(groups, confidence);
        for (const ratio of [interval.lower, interval.upper]) {
          if (ratio === 0 || ratio === Number.POSITIVE_INFINITY) continue;
          const first = ratio * (n1 + x2) + x1 + n2;
          const p2 =
            (first - Math.sqrt(first ** 2 - 4 * (n1 + n2) * ratio * (x1 + x2))) / (2 * (n1 + n2) * ratio);
          const p1 = ratio * p2;
          // Where a rate is at its end the chi-square is a quotient of roundings
          if (p1 < 1e-6 || p1 > 1 - 1e-6 || p2 < 1e-6 || p2 > 1 - 1e-6) continue;
          const chiSquare =
            (x1 - n1 * p1) ** 2 / (n1 * p1 * (1 - p1)) + (x2 - n2 * p2) ** 2 / (n2 * p2 * (1 - p2));
          expectRelative(chiSquare, z * z, 1e-6);
        }
      }),
    );
  });

  it("goes from 0 to infinity without an event", () => {
    expect(koopmanRelativeRisk({ x1: 0, n1: 10, x2: 0, n2: 20 }, 0.95)).toEqual({
      lower: 0,
      upper: Number.POSITIVE_INFINITY,
    });
  });

  it("is found also where the start lies outside: 3 of 50 against 0 of 1 at 50 %", () => {
    // Outside value: mpmath 1.3.0, bisection at 40 digits
    expectRelative(
      koopmanRelativeRisk({ x1: 3, n1: 50, x2: 0, n2: 1 }, 0.5).lower,
      0.18434833411561485,
      1e-12,
    );
  });

  it("refuses counts that cannot be", () => {
    expect(() => koopmanRelativeRisk(bad, 0.95)).toThrow(new RangeError(badMessage));
  });
});

describe("katzRelativeRisk", () => {
  it("is symmetric about the estimate on the log scale, and inverted with the groups", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const { estimate, lower, upper } = katzRelativeRisk(groups, confidence);
        fc.pre(estimate !== null && lower !== null && upper !== null);
        expectRelative(lower * upper, estimate ** 2, 1e-12);
        expectRelative(1 / (katzRelativeRisk(exchanged(groups), confidence).upper ?? 0), lower, 1e-12);
      }),
    );
  });

  it("says plainly where there is no ratio or no interval", () => {
    expect(katzRelativeRisk({ x1: 0, n1: 5, x2: 0, n2: 5 }, 0.95)).toEqual({
      estimate: null,
      lower: null,
      upper: null,
    });
    expect(katzRelativeRisk({ x1: 0, n1: 5, x2: 1, n2: 5 }, 0.95)).toEqual({
      estimate: 0,
      lower: null,
      upper: null,
    });
    expect(katzRelativeRisk({ x1: 1, n1: 5, x2: 0, n2: 5 }, 0.95)).toEqual({
      estimate: Number.POSITIVE_INFINITY,
      lower: null,
      upper: null,
    });
  });

  it("refuses counts that cannot be", () => {
    expect(() => katzRelativeRisk(bad, 0.95)).toThrow(new RangeError(badMessage));
  });
});

describe("woolfOddsRatio", () => {
  it("is inverted with the groups", () => {
    fc.assert(
      fc.property(twoGroups, level, (groups, confidence) => {
        const one = woolfOddsRatio(groups, confidence);
        const other = woolfOddsRatio(exchanged(groups), confidence);
        fc.pre(one.lower !== null && one.upper !== null && one.estimate !== null);
        expectRelative(other.estimate ?? 0, 1 / one.estimate, 1e-12);
        expectRelative(other.upper ?? 0, 1 / one.lower, 1e-12);
        expectRelative(one.standardError, other.standardError, 1e-14);
      }),
    );
  });

  it("says plainly where a cell is empty", () => {
    const none = { standardError: Number.POSITIVE_INFINITY, lower: null, upper: null };
    expect(woolfOddsRatio({ x1: 0, n1: 5, x2: 2, n2: 5 }, 0.95)).toEqual({
      estimate: 0,
      logEstimate: Number.NEGATIVE_INFINITY,
      ...none,
    });
    expect(woolfOddsRatio({ x1: 2, n1: 5, x2: 0, n2: 5 }, 0.95)).toEqual({
      estimate: Number.POSITIVE_INFINITY,
      logEstimate: Number.POSITIVE_INFINITY,
      ...none,
    });
    for (const k of [0, 5]) {
      expect(woolfOddsRatio({ x1: k, n1: 5, x2: k, n2: 5 }, 0.95)).toEqual({
        estimate: null,
        logEstimate: null,
        ...none,
      });
    }
  });

  it("refuses counts that cannot be", () => {
    expect(() => woolfOddsRatio(bad, 0.95)).toThrow(new RangeError(badMessage));
  });
});
