import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mapEndPoints } from "../../../src/core/signal/map-end-points.ts";
import {
  adiabatic,
  firstOrderThermal,
  inverseCurve,
  type SensitivityModel,
  tabulatedCurve,
} from "../../../src/core/signal/sensitivity.ts";
import { timeAtNominal } from "../../../src/core/signal/time-at-nominal.ts";

describe("one thermal time constant from cold: arithmetic of t = tau ln(x^2/(x^2-1))", () => {
  it.each([
    [1.05, 2.375473, -8.214],
    [1.1, 1.751268, -5.4382],
    [1.35, 0.795616, -3.0563],
    [2, 0.287682, -2.3174],
    [3, 0.117783, -2.1225],
    [6, 0.028171, -2.0284],
    [10, 0.01005, -2.0101],
  ])("x %s: t/tau %s, slope %s", (x, time, slope) => {
    const found = firstOrderThermal(1)(x, 1);
    expect(found?.timeAt?.(x)).toBeCloseTo(time, 6);
    expect(found?.slope).toBeCloseTo(slope, 4);
  });

  it("tau 100 s, x 2, u(I) 1 % give u(t) 2 tau/(x^2-1) u_rel = 0.666667 s", () => {
    const found = firstOrderThermal(1)(2, 28.7682);
    expect(Math.abs(found?.slope ?? 0) * 28.76820724 * 0.01).toBeCloseTo(0.666667, 6);
  });

  it("says nothing at or below the pick-up", () => {
    expect(firstOrderThermal(1.1)(1.1, 10)).toBeNull();
    expect(firstOrderThermal(1.1)(1, 10)).toBeNull();
  });
});

describe("inverse curve t = k/(x^a - 1)", () => {
  it.each([
    [0.02, -1.4527],
    [1, -2],
    [2, -2.6667],
  ])("exponent %s at x 2 has slope %s", (exponent, slope) => {
    expect(inverseCurve(1, exponent)(2, 1)?.slope).toBeCloseTo(slope, 4);
  });
});

describe("a curve given as points", () => {
  const model = tabulatedCurve(
    [
      [1.5, 400],
      [3, 100],
      [6, 10],
    ],
    "a curve",
  );
  it("has the slope of the segment at hand, and nothing outside", () => {
    expect(model(2, 1)?.slope).toBeCloseTo(-2, 12);
    expect(model(4, 1)?.slope).toBeCloseTo(-Math.log(10) / Math.log(2), 12);
    expect(model(1.4, 1)).toBeNull();
    expect(model(6.1, 1)).toBeNull();
    expect(model(2, 1)?.timeAt?.(3)).toBeCloseTo(100, 9);
  });

  it("refuses points that do not rise", () => {
    expect(() => tabulatedCurve([[2, 10]], "short")).toThrow("found 1");
    expect(() =>
      tabulatedCurve(
        [
          [2, 10],
          [2, 5],
        ],
        "flat",
      ),
    ).toThrow("point 2");
    expect(() =>
      tabulatedCurve(
        [
          [2, 10],
          [3, 0],
        ],
        "zero",
      ),
    ).toThrow("seconds");
  });
});

describe("every model", () => {
  const models: [string, SensitivityModel][] = [
    ["one thermal time constant", firstOrderThermal(1.13)],
    ["inverse curve", inverseCurve(1.05, 1.7)],
    [
      "points",
      tabulatedCurve(
        [
          [1.2, 900],
          [2, 60],
          [20, 0.1],
        ],
        "points",
      ),
    ],
  ];
  it.each(models)("%s: the slope is the derivative of its own curve", (_, model) => {
    fc.assert(
      fc.property(fc.double({ min: 1.25, max: 15, noNaN: true }), (multiple) => {
        fc.pre(Math.abs(multiple - 2) > 1e-3);
        const found = model(multiple, 1);
        const h = 1e-6;
        const at = (m: number) => Math.log(found?.timeAt?.(m) ?? Number.NaN);
        const numeric = (at(multiple * (1 + h)) - at(multiple * (1 - h))) / (Math.log1p(h) - Math.log1p(-h));
        expect(found?.slope).toBeCloseTo(numeric, 5);
      }),
    );
  });

  it("adiabatic is -2 everywhere", () => expect(adiabatic()(1.2, 7)?.slope).toBe(-2));

  it("refuses a pick-up or exponent that is not above zero", () => {
    expect(() => firstOrderThermal(0)).toThrow("pickup");
    expect(() => inverseCurve(1, -1)).toThrow("exponent");
  });
});

describe("times mapped at the ends of the current", () => {
  const timeAt = firstOrderThermal(1)(2, 1)?.timeAt ?? (() => Number.NaN);
  it.each([
    [1.05, 2.05423, 2.89009],
    [1.35, 0.74949, 0.84705],
    [2, 0.27482, 0.30152],
    [3, 0.11294, 0.12295],
  ])("x %s with 2 %%: %s and %s in units of tau (arithmetic)", (x, lower, upper) => {
    const found = mapEndPoints(timeAt(x), x, 0.02, timeAt);
    expect(found.lower).toBeCloseTo(lower, 5);
    expect(found.upper).toBeCloseTo(upper, 5);
  });

  it("pass through the observed time, whatever the model's own scale", () => {
    const found = mapEndPoints(24, 3, 0, timeAt);
    expect(found.lower).toBeCloseTo(24, 12);
    expect(found.upper).toBeCloseTo(24, 12);
  });

  it("have no upper end where the lower current never trips", () => {
    expect(mapEndPoints(100, 1.01, 0.02, timeAt).upper).toBe(Number.POSITIVE_INFINITY);
  });

  it("need a time at the measured current and a sensible uncertainty", () => {
    expect(() => mapEndPoints(100, 0.9, 0.01, timeAt)).toThrow("multiple 0.9");
    expect(() => mapEndPoints(100, 2, 1, timeAt)).toThrow("found 1");
    expect(() => mapEndPoints(100, 2, -0.1, timeAt)).toThrow("found -0.1");
  });
});

describe("time corrected to nominal", () => {
  it("24.0 s at 1.01 of nominal with slope -2.1225 is 24.5123 s (arithmetic)", () => {
    expect(timeAtNominal(24, 1.01, 1, -2.1225)).toBeCloseTo(24.5123, 4);
  });

  it("is exact on the adiabatic curve", () => {
    expect(timeAtNominal(1000 / 42 ** 2, 42, 40, -2)).toBeCloseTo(1000 / 40 ** 2, 12);
  });

  it("refuses currents that are not above zero and numbers that are none", () => {
    expect(() => timeAtNominal(1, 0, 1, -2)).toThrow("found 0");
    expect(() => timeAtNominal(Number.NaN, 1, 1, -2)).toThrow("NaN");
  });
});
