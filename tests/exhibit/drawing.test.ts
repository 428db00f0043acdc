import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { roomyTicks } from "../../src/exhibit/_axis.ts";
import { clipLine } from "../../src/exhibit/_clip-line.ts";
import { hatch } from "../../src/exhibit/_hatch.ts";
import { placedLabels } from "../../src/exhibit/_labels.ts";
import { linearTimes, percentWords, roundLogValues, timeWords } from "../../src/exhibit/_ticks.ts";
import { numberOf, readSvg } from "./read-svg.ts";

const frame = { left: 0, top: 0, right: 400, bottom: 300 };
const place = fc.tuple(
  fc.double({ min: -500, max: 900, noNaN: true }),
  fc.double({ min: -500, max: 900, noNaN: true }),
);
const inside = fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 300 }));

describe("clipLine()", () => {
  it("gives nothing outside the frame, and leaves what lies inside as it is", () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 12 }), (points) => {
        for (const [x, y] of clipLine(points, frame).flat()) {
          expect(x).toBeGreaterThanOrEqual(-1e-9);
          expect(x).toBeLessThanOrEqual(400 + 1e-9);
          expect(y).toBeGreaterThanOrEqual(-1e-9);
          expect(y).toBeLessThanOrEqual(300 + 1e-9);
        }
      }),
    );
    fc.assert(
      fc.property(fc.array(inside, { minLength: 2, maxLength: 12 }), (points) => {
        expect(clipLine(points, frame)).toEqual([points]);
      }),
    );
  });

  it("cuts a line through the frame at both edges", () => {
    expect(
      clipLine(
        [
          [-100, 150],
          [500, 150],
        ],
        frame,
      ),
    ).toEqual([
      [
        [0, 150],
        [400, 150],
      ],
    ]);
  });
});

describe("hatch()", () => {
  it("stays inside a rectangle and fills it with the length that its area needs", () => {
    const path = hatch(
      [
        [10, 20],
        [110, 20],
        [110, 80],
        [10, 80],
      ],
      4,
    );
    const strokes = [...path.matchAll(/M([\d.]+),([\d.]+)L([\d.]+),([\d.]+)/g)].map((match) =>
      match.slice(1).map(Number),
    );
    let length = 0;
    for (const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] of strokes) {
      for (const x of [x0, x1]) expect(x >= 10 && x <= 110).toBe(true);
      for (const y of [y0, y1]) expect(y >= 20 && y <= 80).toBe(true);
      length += Math.hypot(x1 - x0, y1 - y0);
    }
    // Lines of slope one, a spacing of 4 / sqrt 2 apart: area over that.
    expect(length / ((100 * 60) / (4 / Math.SQRT2))).toBeCloseTo(1, 1);
  });
});

describe("placedLabels()", () => {
  it("lays no label over another where there is room, nor outside the frame", () => {
    fc.assert(
      fc.property(fc.uniqueArray(inside, { minLength: 1, maxLength: 8, selector: String }), (points) => {
        const svg = placedLabels(
          points.map(([x, y], i) => ({ x, y, text: `point ${i}` })),
          [],
          frame,
        ).join("");
        const boxes = readSvg(svg)
          .filter(({ name }) => name === "rect")
          .map((rect) => ({
            left: numberOf(rect, "x"),
            top: numberOf(rect, "y"),
            right: numberOf(rect, "x") + numberOf(rect, "width"),
            bottom: numberOf(rect, "y") + numberOf(rect, "height"),
          }));
        expect(boxes.length).toBe(points.length);
        boxes.forEach((a, i) => {
          expect(a.left).toBeGreaterThanOrEqual(-0.02);
          expect(a.right).toBeLessThanOrEqual(400.02);
          for (const b of boxes.slice(i + 1)) {
            const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
            const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
            expect(Math.min(across, down)).toBeLessThan(1);
          }
        });
      }),
      { numRuns: 60 },
    );
  });
});

describe("ticks", () => {
  it("keep the first of two that would touch, in order of place", () => {
    const ticks = [
      { at: 50, label: "135 %" },
      { at: 55, label: "140 %" },
      { at: 10, label: "1 %" },
    ];
    expect(roomyTicks(ticks, "across").map(({ at }) => at)).toEqual([10, 50]);
  });

  it("are round and within the range", () => {
    expect(roundLogValues([0.95, 25]).sort((a, b) => a - b)).toEqual([
      1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 20,
    ]);
    expect(linearTimes([0, 7200], 8).map(({ label }) => label)).toEqual([
      "0 min",
      "20 min",
      "40 min",
      "60 min",
      "80 min",
      "100 min",
      "120 min",
    ]);
    expect(linearTimes([-0.03, 0.25], 8).at(0)).toEqual({ seconds: 0, label: "0 s" });
  });

  it("rise by one step over any range", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), (span) => {
        const ticks = linearTimes([0, span], 8);
        expect(ticks.length).toBeGreaterThanOrEqual(2);
        expect(ticks.length).toBeLessThanOrEqual(10);
        for (const [i, { seconds }] of ticks.entries())
          if (i > 0) expect(seconds).toBeGreaterThan(ticks[i - 1]?.seconds ?? 0);
      }),
    );
  });

  it("say times and percents as people do", () => {
    expect([0.02, 30, 600, 5400].map(timeWords)).toEqual(["0.02 s", "30 s", "10 min", "1.5 h"]);
    expect([0, 0.0025, 0.125, 1].map(percentWords)).toEqual(["0 %", "0.25 %", "12.5 %", "100 %"]);
  });
});
