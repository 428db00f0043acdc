import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatAmps } from "../../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../../src/core/units/format-multiple.ts";
import { formatSeconds } from "../../../src/core/units/format-seconds.ts";
import { formatWithUncertainty } from "../../../src/core/units/format-with-uncertainty.ts";
import { roundDecimals, roundSignificant } from "../../../src/core/units/round.ts";

describe("seconds", () => {
  it.each([
    [0, "0 s"],
    [0.00004, "0 s"],
    [0.0166667, "0.0167 s"],
    [0.1, "0.1 s"],
    [1.23456, "1.235 s"],
    [24.0312, "24.03 s"],
    [9.9999, "10 s"],
    [119.96, "120 s"],
    [119.996, "120 s"],
    [120, "120 s"],
    [120.4, "2 min"],
    [432, "7 min 12 s"],
    [605, "10 min 05 s"],
    [3600, "60 min"],
    [7199.7, "2 h"],
    [7200, "2 h"],
    [3900 * 2, "2 h 10 min"],
    [86_399, "24 h"],
    [273_600, "3 d 04 h"],
  ])("%s reads %s", (seconds, words) => expect(formatSeconds(seconds)).toBe(words));

  it("never reads sixty of a smaller unit, and never falls while time rises", () => {
    const value = (text: string) =>
      [...text.matchAll(/([\d.]+) (d|h|min|s)/g)].reduce(
        (sum, [, digits, unit]) =>
          sum + Number(digits) * ({ d: 86_400, h: 3600, min: 60, s: 1 }[unit as "h"] ?? 0),
        0,
      );
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        (a, d) => {
          expect(formatSeconds(a)).not.toMatch(/ 60 (s|min)$/);
          expect(value(formatSeconds(a + d))).toBeGreaterThanOrEqual(value(formatSeconds(a)));
          expect(Math.abs(value(formatSeconds(a)) - a)).toBeLessThanOrEqual(
            a < 7200 ? 0.5 : a < 47.5 * 3600 ? 30 : 1800,
          );
        },
      ),
    );
  });

  it("refuses what is no time", () => {
    expect(() => formatSeconds(-1)).toThrow("found -1");
    expect(() => formatSeconds(Number.NaN)).toThrow("found NaN");
  });
});

describe("amps and multiples", () => {
  it.each([
    [0, "0 A"],
    [20, "20 A"],
    [40.2134, "40.21 A"],
    [0.5, "0.5 A"],
    [1234.56, "1235 A"],
    [9999.9, "10 kA"],
    [22_000, "22 kA"],
    [-3, "-3 A"],
    [1e-9, "0 A"],
  ])("%s A reads %s", (amps, words) => expect(formatAmps(amps)).toBe(words));

  it.each([
    [2, "200 %", "2.00x"],
    [1.35, "135 %", "1.35x"],
    [2.00432, "200.4 %", "2.00x"],
    [1.13, "113 %", "1.13x"],
    [0, "0 %", "0.00x"],
  ])("%s reads %s or %s", (multiple, percent, times) => {
    expect(formatMultiple(multiple)).toBe(percent);
    expect(formatMultiple(multiple, "times")).toBe(times);
  });

  it("refuse what is none", () => {
    expect(() => formatAmps(Number.POSITIVE_INFINITY)).toThrow("found Infinity");
    expect(() => formatMultiple(-1)).toThrow("found -1");
  });
});

describe("a value with its uncertainty (JCGM 100:2008, 7.2.6)", () => {
  it.each([
    [24.0312, 0.6142, "24.03 ± 0.61 s"],
    [24.0312, 0.0996, "24.03 ± 0.10 s"],
    [24.0312, 6.142, "24.0 ± 6.1 s"],
    [24.0312, 61.42, "24 ± 61 s"],
    [1234.5, 123, "1230 ± 120 s"],
    [1234.5, 996, "1200 ± 1000 s"],
    [100.02147, 0.00079, "100.02147 ± 0.00079 s"],
    [0.05, 0.0012, "0.0500 ± 0.0012 s"],
    [24.0312, 0, "24.0312 s"],
  ])("%s and %s read %s", (value, uncertainty, words) => {
    expect(formatWithUncertainty(value, uncertainty, "s")).toBe(words);
  });

  it("stands alone where the uncertainty is not known", () => {
    expect(formatWithUncertainty(12.5, null, "A")).toBe("12.5 A");
  });

  it("moves a value by at most half a digit of U", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e5, noNaN: true }),
        fc.double({ min: 1e-5, max: 1e4, noNaN: true }),
        (y, u) => {
          const [value, uncertainty] = formatWithUncertainty(y, u, "s")
            .split(/ ± | s/)
            .map(Number);
          expect(Math.abs((value ?? 0) - y)).toBeLessThanOrEqual((u / 10) * 0.53 + 1e-9);
          expect(Math.abs((uncertainty ?? 0) / u - 1)).toBeLessThanOrEqual(0.0501);
        },
      ),
    );
  });

  it("refuses a negative uncertainty and what is no number", () => {
    expect(() => formatWithUncertainty(1, -1, "s")).toThrow("found -1");
    expect(() => formatWithUncertainty(Number.NaN, 1, "s")).toThrow("found NaN");
  });
});

describe("rounding", () => {
  it("keeps no negative zero and no digit beyond what was asked", () => {
    expect(Object.is(roundDecimals(-1e-9, 6), 0)).toBe(true);
    expect(roundDecimals(1.23456789, 6)).toBe(1.234568);
    expect(roundSignificant(1 / 3, 4)).toBe(0.3333);
    expect(roundSignificant(0)).toBe(0);
  });

  it("is idempotent", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        const once = roundSignificant(roundDecimals(value, 6));
        expect(roundSignificant(roundDecimals(once, 6))).toBe(once);
      }),
    );
  });

  it("refuses what cannot be rounded", () => {
    expect(() => roundDecimals(Number.NaN, 6)).toThrow("NaN");
    expect(() => roundSignificant(Number.POSITIVE_INFINITY)).toThrow("Infinity");
  });
});
