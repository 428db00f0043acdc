import { describe, expect, it } from "vitest";
import { checkLimitSet } from "../../../src/core/limits/check-limit-set.ts";
import type { InstantaneousRow, LimitRow, LimitSet } from "../../../src/core/limits/limit-set.ts";

const source = {
  document: "Invented document",
  edition: null,
  clause: null,
  standing: "from memory" as const,
  doubtful: false,
  note: "Invented for this test.",
};
const row = (id: string, over: number, to: number | null, more: Partial<LimitRow> = {}): LimitRow => ({
  id,
  test: "200 %",
  multiple: 2,
  requirement: { kind: "trip-within", maxSeconds: 120 },
  ratedOverAmps: over,
  ratedToAmps: to,
  loading: "each pole alone",
  start: "cold",
  ambient: null,
  source,
  ...more,
});
const set = (rows: LimitRow[], instantaneous?: InstantaneousRow[]): LimitSet => ({
  id: "invented",
  title: "Invented",
  about: "Invented for this test.",
  limitIncludesGuardBand: false,
  rows,
  ...(instantaneous === undefined ? {} : { instantaneous }),
});

describe("checkLimitSet", () => {
  it("finds nothing in a sound set", () => {
    const letters = [
      row("b", 0, 32, { typeLetters: ["B"] }),
      row("b2", 32, 125, { typeLetters: ["B"] }),
      row("c", 0, 125, { typeLetters: ["C", "D"] }),
    ];
    expect(checkLimitSet(set([row("a", 0, 30), row("b", 30, 50), row("c", 50, null)]))).toEqual([]);
    expect(checkLimitSet(set([row("a", 0, 5000), row("b", 6000, 6000)]))).toEqual([]);
    expect(checkLimitSet(set(letters))).toEqual([]);
    const classes = [
      row("a", 0, 100, { voltsOver: 0, voltsTo: 250 }),
      row("b", 0, 50, { voltsOver: 250, voltsTo: 600 }),
      row("c", 50, 100, { voltsOver: 250, voltsTo: 600 }),
    ];
    expect(checkLimitSet(set(classes))).toEqual([]);
    const marked = [row("a", 0, 30, { calibratedCelsius: 25 }), row("b", 0, 30, { calibratedCelsius: 40 })];
    expect(checkLimitSet(set(marked))).toEqual([]);
    for (const standing of ["seen second-hand", "read in the document", "our own choice"] as const)
      expect(checkLimitSet(set([row("a", 0, 30, { source: { ...source, standing } })]))).toEqual([]);
    expect(checkLimitSet(set([row("a", 0, 30, { source: { ...source, doubtful: true } })]))).toEqual([]);
  });

  it.each([
    ["ranges", [row("a", 0, 30), row("b", 29, 50)]],
    ["a range without an upper end", [row("a", 0, null), row("b", 50, 100)]],
    ["a range inside another", [row("a", 0, 100), row("b", 30, 50)]],
    ["a single rating inside a range", [row("a", 0, 6000), row("b", 6000, 6000)]],
    ["a row for one type and one for all", [row("a", 0, 30), row("b", 0, 30, { typeLetters: ["B"] })]],
    [
      "types that share a letter",
      [row("a", 0, 30, { typeLetters: ["B", "C"] }), row("b", 0, 30, { typeLetters: ["C"] })],
    ],
    [
      "classes of voltage",
      [row("a", 0, 30, { voltsOver: 0, voltsTo: 250 }), row("b", 0, 30, { voltsOver: 240, voltsTo: 600 })],
    ],
    [
      "a row for a marked ambient and one for all",
      [row("a", 0, 30), row("b", 0, 30, { calibratedCelsius: 40 })],
    ],
    ["either loading and one of them", [row("a", 0, 30, { loading: "either" }), row("b", 0, 30)]],
    [
      "a row for all and one for a marked ambient",
      [row("a", 0, 30, { calibratedCelsius: 40 }), row("b", 0, 30)],
    ],
  ])("names both rows where they overlap: %s", (_what, rows) => {
    expect(checkLimitSet(set(rows)).join()).toMatch(/rows a and b of test "200 %" overlap/);
  });

  it("names the row where ratings are missing before it", () => {
    expect(checkLimitSet(set([row("a", 0, 30), row("b", 31, 50)]))).toEqual([
      "row b: ratings over 30 up to 31 A are missing between it and row a",
    ]);
    const oneType = [row("a", 0, 30, { typeLetters: ["B", "C"] }), row("b", 32, 50, { typeLetters: ["B"] })];
    expect(checkLimitSet(set(oneType))).toHaveLength(1);
  });

  it("names a row that stands out of order", () => {
    expect(checkLimitSet(set([row("a", 30, 50), row("b", 0, 30)])).join()).toMatch(
      /row b: ratings must rise within a test, but it follows row a/,
    );
  });

  it("does not mix tests", () => {
    expect(checkLimitSet(set([row("a", 0, 30), row("b", 0, 30, { test: "135 %" })]))).toEqual([]);
  });

  it.each<[string, LimitRow, RegExp]>([
    ["multiple", row("a", 0, 30, { multiple: -2 }), /row a: the multiple must be positive but is -2/],
    ["multiple", row("a", 0, 30, { multiple: Number.NaN }), /row a: the multiple/],
    [
      "time",
      row("a", 0, 30, { requirement: { kind: "hold-for", seconds: 0 } }),
      /row a: times must be positive but one is 0 s/,
    ],
    [
      "times",
      row("a", 0, 30, { requirement: { kind: "trip-between", minSeconds: 60, maxSeconds: 1 } }),
      /earliest trip must come before.*60 s and 1 s/,
    ],
    ["ratings", row("a", 50, 30), /row a: the range of rated current must rise.*over 50 to 30 A/],
    ["ratings", row("a", -5, 30), /range of rated current/],
    ["voltage", row("a", 0, 30, { voltsOver: 600, voltsTo: 250 }), /range of rated voltage/],
    [
      "start",
      row("a", 0, 30, { start: { after: "nothing" } }),
      /starts after test "nothing", which is not another test/,
    ],
    ["start", row("a", 0, 30, { start: { after: "200 %" } }), /not another test of this set/],
    ["ambient", row("a", 0, 30, { ambient: { lowestCelsius: 28, highestCelsius: 22 } }), /lowest ambient/],
    [
      "document",
      row("a", 0, 30, { source: { ...source, document: " " } }),
      /row a: the source names no document/,
    ],
    ["note", row("a", 0, 30, { source: { ...source, note: "" } }), /row a: the source has no note/],
    [
      "standing",
      row("a", 0, 30, { source: { ...source, standing: "certain" as "from memory" } }),
      /standing must be one of/,
    ],
    [
      "doubt",
      row("a", 0, 30, { source: { ...source, standing: "seen second-hand", doubtful: true } }),
      /only what is from memory can be doubtful/,
    ],
  ])("names the row with an unsound %s", (_what, unsound, words) => {
    expect(checkLimitSet(set([unsound])).join("; ")).toMatch(words);
  });

  it("names an id that is used twice, and a set without rows", () => {
    expect(checkLimitSet(set([row("a", 0, 30), row("a", 30, 50)]))).toEqual(["row a: the id is used twice"]);
    expect(checkLimitSet(set([]))).toEqual(["the set has no rows"]);
  });

  it("checks instantaneous tolerances", () => {
    const tolerance = (low: number, high: number, withinSeconds = 0.2): InstantaneousRow => ({
      id: "t",
      tripType: "electronic",
      low,
      high,
      takenFrom: "the nominal setting",
      withinSeconds,
      source,
    });
    expect(checkLimitSet(set([], [tolerance(-0.3, 0.4)]))).toEqual([]);
    for (const wrong of [
      tolerance(-1, 0.4),
      tolerance(0.3, 0.4),
      tolerance(-0.3, -0.1),
      tolerance(0, 0),
      tolerance(-0.3, Number.NaN),
      tolerance(-0.3, 0.4, 0),
    ])
      expect(checkLimitSet(set([], [wrong])).join()).toContain("instantaneous row t: ");
  });
});
