import { describe, expect, it } from "vitest";
import {
  acceptanceLimits,
  decide,
  guardWidth,
  ruleWords,
  type Zone,
  zoneOf,
} from "../../../src/core/limits/decision-rule.ts";

describe("guardWidth", () => {
  it("is r U, and nothing for simple acceptance or where the limit has its own margin", () => {
    expect(guardWidth({ kind: "guard", r: 0.83 }, 2, false)).toBeCloseTo(1.66, 12);
    expect(guardWidth({ kind: "nonbinary", r: 1.5 }, 2, false)).toBe(3);
    expect(guardWidth({ kind: "simple" }, 2, false)).toBe(0);
    expect(guardWidth({ kind: "guard", r: 1 }, 2, true)).toBe(0);
  });

  it("is not known without an uncertainty, unless r is 0", () => {
    expect(guardWidth({ kind: "guard", r: 1 }, null, false)).toBeNull();
    expect(guardWidth({ kind: "guard", r: 0 }, null, false)).toBe(0);
  });

  it.each([
    [{ kind: "guard", r: -1 }, 1],
    [{ kind: "nonbinary", r: Number.POSITIVE_INFINITY }, 1],
    [{ kind: "guard", r: 1 }, -1],
    [{ kind: "simple" }, Number.NaN],
  ] as const)("throws on %o with U = %s", (rule, expanded) => {
    expect(() => guardWidth(rule, expanded, false)).toThrow(RangeError);
  });
});

// JCGM 106:2012, clause 8: the acceptance interval of a two-sided tolerance is empty when w > (TU - TL) / 2.
describe("acceptanceLimits", () => {
  it("moves both limits inward until they meet", () => {
    expect(acceptanceLimits({ lower: 20, upper: 50 }, 2)).toEqual({ lower: 22, upper: 48 });
    expect(acceptanceLimits({ lower: 20, upper: 50 }, 15)).toEqual({ lower: 35, upper: 35 });
    expect(acceptanceLimits({ lower: 20, upper: 50 }, 15.01)).toBeNull();
  });

  it("leaves a lower limit alone open above, and an upper one not below 0", () => {
    expect(acceptanceLimits({ lower: 20, upper: null }, 1000)).toEqual({ lower: 1020, upper: null });
    expect(acceptanceLimits({ lower: null, upper: 50 }, 50)).toEqual({ lower: null, upper: 0 });
    expect(acceptanceLimits({ lower: null, upper: 50 }, 51)).toBeNull();
  });
});

describe("zoneOf", () => {
  it("gives each edge to the better side", () => {
    const at = (value: number) => zoneOf(value, { lower: 20, upper: 50 }, 2);
    expect([17.9, 18, 20, 22, 48, 50, 52, 52.1].map(at)).toEqual([-3, -2, -1, 0, 0, 1, 2, 3]);
  });

  it("refuses what is no number: every comparison with it is false", () => {
    expect(() => zoneOf(Number.NaN, { lower: 20, upper: 50 }, 2)).toThrow(/cannot judge NaN/);
    expect(() => zoneOf(30, { lower: 20, upper: 50 }, Number.NaN)).toThrow(/guard band NaN/);
    expect(() => zoneOf(30, { lower: 20, upper: 50 }, -1)).toThrow(RangeError);
    expect(() => zoneOf(35, { lower: 20, upper: 50 }, 16)).toThrow(/nothing to accept/);
  });
});

describe("decide", () => {
  it("passes what the rule accepts, on either side", () => {
    const passing = (kind: "guard" | "nonbinary") =>
      ([-3, -2, -1, 0, 1, 2, 3] as Zone[]).filter((zone) => decide({ kind, r: 1 }, zone).passes);
    expect(passing("guard")).toEqual([0]);
    expect(passing("nonbinary")).toEqual([-1, 0, 1]);
  });
});

describe("ruleWords", () => {
  it("names the rule with its width", () => {
    expect(ruleWords({ kind: "simple" }, 0, "s")).toBe("simple acceptance, without a guard band");
    expect(ruleWords({ kind: "guard", r: 0.83 }, 1.66, "s")).toBe(
      "pass or fail with a guard band of 0.83 U = 1.66 s",
    );
    expect(ruleWords({ kind: "nonbinary", r: 1 }, null, "s")).toBe(
      "non-binary statement with a guard band of 1 U",
    );
  });
});
