import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { blandAltman } from "../../../src/core/stats/bland-altman.ts";
import { precision } from "../../../src/core/stats/precision.ts";
import { repeatability } from "../../../src/core/stats/repeatability.ts";
import { expectRelative } from "./close-to.ts";

const value = fc.double({ min: -1000, max: 1000, noNaN: true });
const pairs = fc.array(fc.tuple(value, value), { minLength: 3, maxLength: 20 });

describe("blandAltman", () => {
  it("changes sign with the methods", () => {
    fc.assert(
      fc.property(pairs, (list) => {
        const a = list.map(([x]) => x);
        const b = list.map(([, y]) => y);
        const one = blandAltman(a, b, 0.95);
        const other = blandAltman(b, a, 0.95);
        expect(one.bias).toBeCloseTo(-other.bias, 9);
        expect(one.limits.lower).toBeCloseTo(-other.limits.upper, 9);
        expect(one.standardDeviation).toBeCloseTo(other.standardDeviation, 9);
      }),
      { numRuns: 20 },
    );
  });

  it("has each limit inside its exact interval, and the two intervals mirrored about the bias", () => {
    const a = [10, 20, 30, 41, 52];
    const b = [11, 19, 33, 40, 50];
    const { bias, limits, lowerLimitInterval, upperLimitInterval } = blandAltman(a, b, 0.95);
    expect(upperLimitInterval?.lower).toBeLessThan(limits.upper);
    expect(upperLimitInterval?.upper).toBeGreaterThan(limits.upper);
    expectRelative((lowerLimitInterval?.lower ?? 0) + (upperLimitInterval?.upper ?? 0), 2 * bias, 1e-9);
    expectRelative((lowerLimitInterval?.upper ?? 0) + (upperLimitInterval?.lower ?? 0), 2 * bias, 1e-9);
  });

  // Outside value: mpmath 1.3.0, noncentral t by quadrature at 25 digits
  it("agrees with an outside exact interval to 1e-12", () => {
    const { upperLimitInterval } = blandAltman([10, 100, 1000, 3000], [10.1, 101, 1012, 3028], 0.95);
    expectRelative(upperLimitInterval?.lower ?? 0, 0.5757871389851564, 1e-12);
  });

  it("takes scatter below the rounding of the values for none", () => {
    const agreement = blandAltman([1.1, 2.1, 3.1], [1, 2, 3], 0.95);
    expect(agreement.standardDeviation).toBeLessThan(1e-15);
    expect(agreement.lowerLimitInterval).toBeNull();
  });

  it.each([
    [[1], [1], "pairs must be two or more but are 1"],
    [[1, 2], [1], "lists must be of one length but have 2 and 1 values"],
    [[1, Number.NaN], [1, 2], "pair 2 must be two finite numbers but is NaN and 2"],
  ])("refuses %j and %j", (a, b, message) => {
    expect(() => blandAltman(a, b, 0.95)).toThrow(new RangeError(message));
  });

  it("refuses a level outside (0, 1)", () => {
    expect(() => blandAltman([1, 2], [1, 2], 1)).toThrow(
      new RangeError("level must be above 0 and below 1 but is 1"),
    );
  });
});

describe("repeatability", () => {
  it("is √(Σ d² / 2n), whichever measurement came first", () => {
    expectRelative(repeatability([1, 2], [2, 4]).withinStandardDeviation, Math.sqrt(5 / 4), 1e-15);
    expect(repeatability([1, 2], [2, 4])).toEqual(repeatability([2, 4], [1, 2]));
  });

  it("is the precision of labs that measured twice each", () => {
    fc.assert(
      fc.property(pairs, (list) => {
        const { withinStandardDeviation } = repeatability(
          list.map(([x]) => x),
          list.map(([, y]) => y),
        );
        expect(precision(list).repeatability ?? 0).toBeCloseTo(withinStandardDeviation, 9);
      }),
    );
  });

  it("refuses no pairs", () => {
    expect(() => repeatability([], [])).toThrow(
      new RangeError("pairs must be one or more but there are none"),
    );
  });
});

describe("precision", () => {
  it("adds its variances: s_R² = s_r² + s_L²", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(value, { minLength: 1, maxLength: 5 }), { minLength: 2, maxLength: 8 }),
        (labs) => {
          const { repeatability: r, betweenLab, reproducibility } = precision(labs);
          fc.pre(r !== null && betweenLab !== null && reproducibility !== null);
          expectRelative(r ** 2 + betweenLab ** 2, reproducibility ** 2, 1e-12);
        },
      ),
    );
  });

  it("does not change when all results are moved", () => {
    const labs = [
      [1.25, 1.5],
      [2, 2.5, 2.25],
    ];
    const moved = labs.map((results) => results.map((result) => result + 64));
    expectRelative(precision(moved).reproducibility ?? 0, precision(labs).reproducibility ?? 1, 1e-12);
  });

  it("sets a negative between-lab variance to 0", () => {
    expect(
      precision([
        [1, 3],
        [2, 2.1],
        [1.9, 2],
      ]).betweenLab,
    ).toBe(0);
  });

  it("says plainly what one lab, or single results, cannot tell", () => {
    expect(precision([[1, 2, 3]])).toMatchObject({
      meanSquareBetween: null,
      betweenLab: null,
      reproducibility: null,
      repeatability: 1,
    });
    expect(precision([[1], [2]])).toMatchObject({
      meanSquareWithin: null,
      repeatability: null,
      betweenLab: null,
    });
  });

  it("refuses no labs, an empty lab and results that are no numbers", () => {
    expect(() => precision([])).toThrow(new RangeError("labs must be one or more but there are none"));
    expect(() => precision([[1], []])).toThrow(
      new RangeError("lab 2 must have one or more results but has none"),
    );
    expect(() => precision([[1, Number.NaN]])).toThrow(
      new RangeError("lab 1: results must be finite but one is NaN"),
    );
  });
});
