import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type LimitMark,
  limitMarks,
  tooLateEdge,
  tooSoonEdge,
} from "../../../src/core/limits/limit-marks.ts";
import type { LimitRow, LimitSet, Requirement } from "../../../src/core/limits/limit-set.ts";

const row = (multiple: number, requirement: Requirement, change: Partial<LimitRow> = {}): LimitRow => ({
  id: `${multiple}`,
  test: `${multiple}`,
  multiple,
  requirement,
  ratedOverAmps: 0,
  ratedToAmps: 30,
  loading: "either",
  start: "cold",
  ambient: null,
  source: {
    document: "invented",
    edition: null,
    clause: null,
    standing: "from memory",
    doubtful: false,
    note: "",
  },
  ...change,
});
const within = (maxSeconds: number): Requirement => ({ kind: "trip-within", maxSeconds });
const hold = (seconds: number): Requirement => ({ kind: "hold-for", seconds });
const setOf = (rows: LimitRow[]): LimitSet => ({
  id: "invented",
  title: "Invented",
  about: "Invented for this test.",
  limitIncludesGuardBand: false,
  rows,
});
const specimen = { label: "A", ratedAmps: 20, poles: 1 as const, volts: 120 };
const latest = (multiple: number, seconds: number): LimitMark => ({
  multiple,
  seconds,
  edge: "latest",
  label: "",
  readInDocument: false,
});

describe("limitMarks()", () => {
  it("takes the rows of the specimen's rating, from the lowest multiple up, each with its own label", () => {
    const set = setOf([
      row(2, within(120)),
      row(2, within(240), { ratedOverAmps: 30, ratedToAmps: 50 }),
      row(1.35, within(3600)),
      row(1, hold(3600)),
    ]);
    expect(
      limitMarks(set, specimen).map(({ multiple, seconds, edge, label }) => [multiple, seconds, edge, label]),
    ).toEqual([
      [1, 3600, "earliest", "hold for 60 min"],
      [1.35, 3600, "latest", "trip within 60 min"],
      [2, 120, "latest", "trip within 120 s"],
    ]);
  });

  it("draws a window as two edges", () => {
    const set = setOf([row(2.55, { kind: "trip-between", minSeconds: 1, maxSeconds: 60 })]);
    expect(limitMarks(set, specimen).map(({ edge, seconds }) => [edge, seconds])).toEqual([
      ["earliest", 1],
      ["latest", 60],
    ]);
  });

  it("draws equal limits once, and calls them read in the document only where all of them were", () => {
    const source = { ...row(2, within(120)).source, standing: "read in the document" as const };
    const set = setOf([row(2, within(120), { source }), row(2, within(120), { id: "other" })]);
    expect(limitMarks(set, specimen)).toHaveLength(1);
    expect(limitMarks(set, specimen)[0]?.readInDocument).toBe(false);
  });
});

describe("the regions", () => {
  it("step down to the right where a trip comes too late", () => {
    expect(tooLateEdge([latest(1.35, 3600), latest(2, 120)], 4)).toEqual([
      [1.35, 3600],
      [2, 3600],
      [2, 120],
      [4, 120],
    ]);
  });

  it("keep the shorter limit where a higher multiple allows longer", () => {
    expect(tooLateEdge([latest(1.35, 60), latest(2, 120)], 4)).toEqual([
      [1.35, 60],
      [4, 60],
    ]);
  });

  it("step up to the left where a trip comes too soon", () => {
    const marks = [
      { ...latest(1, 7200), edge: "earliest" as const },
      { ...latest(1.05, 3600), edge: "earliest" as const },
    ];
    expect(tooSoonEdge(marks, 0.5)).toEqual([
      [0.5, 7200],
      [1, 7200],
      [1, 3600],
      [1.05, 3600],
    ]);
  });

  it("are not there without a limit", () => {
    expect(tooLateEdge([], 4)).toEqual([]);
    expect(tooSoonEdge([latest(2, 120)], 0.5)).toEqual([]);
  });

  it("never rise to the right, whatever the limits", () => {
    const limits = fc
      .array(
        fc.tuple(
          fc.double({ min: 1, max: 20, noNaN: true }),
          fc.double({ min: 0.01, max: 1e4, noNaN: true }),
        ),
        { maxLength: 12 },
      )
      .map((all) => all.map(([m, s]) => latest(m, s)).sort((a, b) => a.multiple - b.multiple));
    fc.assert(
      fc.property(limits, (marks) => {
        const edge = tooLateEdge(marks, 50);
        edge.slice(1).forEach(([m, s], i) => {
          expect(m).toBeGreaterThanOrEqual(edge[i]?.[0] ?? 0);
          expect(s).toBeLessThanOrEqual(edge[i]?.[1] ?? 0);
        });
        // No allowed time lies inside: every limit is on or above the edge's last step at its multiple.
        for (const mark of marks) expect(edge.at(-1)?.[1] ?? 0).toBeLessThanOrEqual(mark.seconds);
      }),
    );
  });
});
