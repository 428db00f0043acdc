import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ShotLine } from "../../src/contract/http.ts";
import type { LimitMark } from "../../src/core/limits/limit-marks.ts";
import {
  extentOf,
  joinNearLabels,
  multipleTicks,
  secondTicks,
  shotMarks,
  spreadLabels,
  tickWords,
} from "../../web/charts/time-current-geometry.ts";

const latest = (multiple: number, seconds: number): LimitMark => ({
  multiple,
  seconds,
  edge: "latest",
  label: "",
  readInDocument: false,
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
    amendments: 0,
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
