import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ShotLine } from "../../src/contract/http.ts";
import { type LimitMark, limitMarks, tooLateEdge, tooSoonEdge } from "../../src/core/limits/limit-marks.ts";
import type { LimitRow, LimitSet, Requirement } from "../../src/core/limits/limit-set.ts";
import {
  extentOf,
  joinNearLabels,
  multipleTicks,
  secondTicks,
  shotMarks,
  spreadLabels,
  tickWords,
} from "../../web/charts/time-current-geometry.ts";

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

describe("shotMarks()", () => {
  const line = (change: Partial<ShotLine>): ShotLine => ({
    id: "T1",
    specimen: "S1",
    label: "A",
    job: null,
    ratedAmps: 20,
    poles: 2,
    multiple: 2,
    loading: "pole-2",
    state: { kind: "as-found" },
    openedAt: "",
    closedAt: "",
    outcome: "tripped",
    result: "pass",
    seconds: 50,
    heldSeconds: 50,
    limitSeconds: 120,
    demo: false,
    ...change,
  });

  it("stand at the trip time, or at the time held where there was no trip", () => {
    const marks = shotMarks(
      [
        line({}),
        line({ id: "T2", outcome: "held", seconds: null, heldSeconds: 127, result: "fail", loading: "all" }),
      ],
      "T2",
    );
    expect(marks).toEqual([
      { id: "T1", multiple: 2, seconds: 50, shape: "tripped", label: "pole 2", chosen: false },
      { id: "T2", multiple: 2, seconds: 127, shape: "held", label: "all poles", chosen: true },
    ]);
  });

  it("leave out what cannot be used, what is not over, and what has no time", () => {
    expect(
      shotMarks(
        [
          line({ result: "excluded" }),
          line({ outcome: null, result: null }),
          line({ outcome: "interrupted", seconds: null, heldSeconds: 0 }),
        ],
        null,
      ),
    ).toEqual([]);
  });
});

describe("the axes", () => {
  const numbers = fc.array(
    fc.tuple(fc.double({ min: 0.5, max: 60, noNaN: true }), fc.double({ min: 0.005, max: 1e5, noNaN: true })),
    { maxLength: 10 },
  );

  it("hold everything drawn, with room around it", () => {
    fc.assert(
      fc.property(numbers, (all) => {
        const marks = all.map(([m, s]) => latest(m, s));
        const { multiples, seconds } = extentOf(marks, []);
        for (const mark of marks) {
          expect(mark.multiple).toBeGreaterThan(multiples[0]);
          expect(mark.multiple).toBeLessThan(multiples[1]);
          expect(mark.seconds).toBeGreaterThan(seconds[0]);
          expect(mark.seconds).toBeLessThan(seconds[1]);
        }
      }),
    );
  });

  it("number the test multiples first, and no two numbers crowd", () => {
    const limits = [latest(1, 1), latest(1.35, 1), latest(2, 1)];
    const ticks = multipleTicks(limits, [0.5, 5]);
    expect(ticks).toEqual(expect.arrayContaining([1, 1.35, 2]));
    ticks.slice(1).forEach((tick, i) => {
      expect(Math.log(tick / (ticks[i] ?? 1))).toBeGreaterThan(0.25);
    });
  });

  it("number time in the unit people use", () => {
    expect(secondTicks([0.5, 8000]).map(tickWords)).toEqual(["1 s", "10 s", "1 min", "10 min", "1 h"]);
  });
});

describe("labels", () => {
  it("spread apart in their order and stay inside", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 350 }), { minLength: 1, maxLength: 12 }), (wishes) => {
        const places = spreadLabels(wishes, 15, 0, 300);
        const order = wishes.map((_, i) => i).sort((a, b) => (wishes[a] ?? 0) - (wishes[b] ?? 0));
        order.slice(1).forEach((index, i) => {
          expect((places[index] ?? 0) - (places[order[i] ?? 0] ?? 0)).toBeGreaterThanOrEqual(15 - 1e-9);
        });
        for (const place of places) {
          expect(place).toBeGreaterThanOrEqual(7.5 - 1e-9);
          expect(place).toBeLessThanOrEqual(292.5 + 1e-9);
        }
      }),
    );
  });

  it("stay where they wish when nothing is in the way", () => {
    expect(spreadLabels([20, 100, 60], 15, 0, 300)).toEqual([20, 100, 60]);
  });

  it("of points that lie on each other are joined, each once", () => {
    const at = (x: number, label: string) => ({ x, y: 0, label });
    expect(
      joinNearLabels([at(0, "pole 2"), at(5, "pole 1"), at(6, "pole 1"), at(100, "pole 3")], 14),
    ).toEqual(["pole 1, pole 2", "", "", "pole 3"]);
  });
});
