import { describe, expect, it } from "vitest";
import { instantaneousWindow, judgeInstantaneous } from "../../../src/core/limits/instantaneous.ts";
import type { InstantaneousRow } from "../../../src/core/limits/limit-set.ts";
import type { DecisionRule } from "../../../src/core/limits/verdict.ts";
import { shippedSet } from "../../curves/shipped-sets.ts";

function tolerance(id: string): InstantaneousRow {
  const row = shippedSet("nema-ab-4-instantaneous").instantaneous?.find((one) => one.id === id);
  if (row === undefined) throw new Error(`no row ${id}`);
  return row;
}

const simple: DecisionRule = { kind: "simple" };
const tripped = (amps: number, expanded: number | null = null) =>
  ({ outcome: "tripped", amps, expanded, standard: expanded === null ? null : expanded / 2 }) as const;

/** The verdict, or an error where there is none. */
function verdict(...request: Parameters<typeof judgeInstantaneous>) {
  const judgement = judgeInstantaneous(...request);
  if (!judgement.ok) throw new Error(judgement.detail);
  return judgement.verdict;
}

// ANSI/NETA MTS-2019, Table 100.8, worked in a trade forum: setting 4000 A, window 2800 A to 5600 A; 2775 A fails.
describe("adjustable thermal-magnetic trip set to 4000 A", () => {
  const window = instantaneousWindow(tolerance("adjustable"), { settingAmps: 4000 });

  it("must act from 2800 A to 5600 A", () => {
    expect(window).toEqual({ lowestAmps: 2800, highestAmps: 5600 });
  });

  it.each([
    [2775, "fail", "trips too low"],
    [2800, "pass", "within the window"],
    [4000, "pass", "within the window"],
    [5600, "pass", "within the window"],
    [5601, "fail", "trips too high"],
  ])("%s A: %s, %s", (amps, result, finding) => {
    expect(verdict(tripped(amps), window, simple)).toMatchObject({ result, finding });
  });

  it("takes a guard band on both sides, and refuses one that leaves nothing", () => {
    const guard: DecisionRule = { kind: "guard", r: 1 };
    expect(verdict(tripped(2850, 100), window, guard)).toMatchObject({
      result: "fail",
      finding: "inside the guard band",
    });
    expect(verdict(tripped(2850, 100), window, { kind: "nonbinary", r: 1 })).toMatchObject({
      result: "pass",
      statement: "Conditional Pass",
    });
    expect(verdict(tripped(2800, 100), window, simple).probability).toBeCloseTo(0.5, 12);
    expect(verdict(tripped(3000), window, guard).result).toBe("undetermined");
    expect(judgeInstantaneous(tripped(4000, 1500), window, guard)).toMatchObject({
      ok: false,
      code: "no-acceptance-interval",
      detail: expect.stringContaining("up to 1400 A"),
    });
  });

  it("fails without a trip only where the current was raised to the upper end", () => {
    const none = (amps: number) => ({ ...tripped(amps, 100), outcome: "no trip" }) as const;
    expect(verdict(none(5600), window, simple)).toMatchObject({ result: "fail", finding: "no trip" });
    expect(verdict(none(5599), window, simple)).toMatchObject({
      result: "undetermined",
      finding: "not decided",
    });
    expect(verdict(none(5650), window, { kind: "guard", r: 1 }).result).toBe("undetermined");
  });

  it("never reads NaN as within", () => {
    expect(() => verdict(tripped(Number.NaN), window, simple)).toThrow(RangeError);
    expect(() => verdict(tripped(4000, Number.NaN), window, simple)).toThrow(RangeError);
    expect(() => verdict(tripped(4000, 1), window, { kind: "guard", r: -1 })).toThrow(/r must be/);
  });
});

describe("instantaneousWindow", () => {
  it("takes 30 % from the setting of an electronic trip", () => {
    expect(instantaneousWindow(tolerance("electronic"), { settingAmps: 1000 })).toEqual({
      lowestAmps: 700,
      highestAmps: 1300,
    });
  });

  it("takes 25 % from the edges of the published band of a non-adjustable trip, not from a nominal", () => {
    expect(
      instantaneousWindow(tolerance("non-adjustable"), { lowEdgeAmps: 800, highEdgeAmps: 1600 }),
    ).toEqual({
      lowestAmps: 600,
      highestAmps: 2000,
    });
  });

  it("refuses what the row is not taken from", () => {
    expect(() => instantaneousWindow(tolerance("non-adjustable"), { settingAmps: 1000 })).toThrow(
      /taken from the low and high edge of the published band; found a setting/,
    );
    expect(() => instantaneousWindow(tolerance("adjustable"), { lowEdgeAmps: 1, highEdgeAmps: 2 })).toThrow(
      /found the edges of a band/,
    );
    expect(() => instantaneousWindow(tolerance("adjustable"), { settingAmps: 0 })).toThrow(/positive/);
    expect(() =>
      instantaneousWindow(tolerance("non-adjustable"), { lowEdgeAmps: 3, highEdgeAmps: 2 }),
    ).toThrow(/in order/);
  });
});
