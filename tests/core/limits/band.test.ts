import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Band, bandAt, checkBand, judgeByBand } from "../../../src/core/limits/band.ts";
import { heldFor, trippedAt } from "./judge-cases.ts";

const band = (
  minimum: Band["minimum"],
  maximum: Band["maximum"],
  current: Band["current"] = "multiple",
): Band => ({
  id: "invented-band",
  title: "Invented",
  current,
  minimum,
  maximum,
  source: {
    document: "Invented curve",
    edition: null,
    clause: null,
    standing: "read in the document",
    doubtful: false,
    note: "Invented for this test.",
  },
});

// t = 100 / m^2 and t = 400 / m^2 are straight lines of slope -2 in log-log space.
const squares = band(
  [
    [1, 100],
    [10, 1],
  ],
  [
    [2, 100],
    [20, 1],
  ],
);

describe("bandAt", () => {
  it("joins points by straight lines in log-log space", () => {
    fc.assert(
      fc.property(fc.double({ min: 2, max: 10, noNaN: true }), (multiple) => {
        const at = bandAt(squares, multiple);
        expect((at?.minSeconds ?? 0) * multiple ** 2).toBeCloseTo(100, 8);
        expect((at?.maxSeconds ?? 0) * multiple ** 2).toBeCloseTo(400, 8);
      }),
    );
  });

  it("gives the points themselves exactly", () => {
    const three = band(
      [
        [2, 7.7],
        [3, 5.1],
        [4, 1.3],
      ],
      [
        [2, 9.9],
        [3, 8.8],
        [4, 7.7],
      ],
    );
    expect([2, 3, 4].map((multiple) => bandAt(three, multiple))).toEqual([
      { minSeconds: 7.7, maxSeconds: 9.9 },
      { minSeconds: 5.1, maxSeconds: 8.8 },
      { minSeconds: 1.3, maxSeconds: 7.7 },
    ]);
  });

  it("is nothing where not both edges are", () => {
    expect(bandAt(squares, 1.99)).toBeNull();
    expect(bandAt(squares, 10.01)).toBeNull();
    expect(() => bandAt(squares, Number.NaN)).toThrow(RangeError);
    expect(() => bandAt(squares, 0)).toThrow(/positive/);
  });
});

describe("checkBand", () => {
  it("finds nothing in a sound band, edges that touch included", () => {
    expect(checkBand(squares)).toEqual([]);
    expect(
      checkBand(
        band(
          [
            [1, 10],
            [3, 1],
          ],
          [
            [1, 10],
            [2, 9],
            [3, 1],
          ],
        ),
      ),
    ).toEqual([]);
  });

  it("finds edges that cross at a point of either, even between the points of the other", () => {
    const crossed = band(
      [
        [1, 100],
        [10, 1],
      ],
      [
        [1, 200],
        [3, 5],
        [10, 2],
      ],
    );
    expect(checkBand(crossed)).toEqual([
      "maximum[1]: the edges cross; at 3 times rating the minimum is 11.1111 s and the maximum 5 s",
    ]);
    expect(
      checkBand(
        band(
          [
            [1, 10],
            [5, 9],
            [10, 1],
          ],
          [
            [1, 11],
            [10, 2],
          ],
        ),
      ).join(),
    ).toContain("minimum[1]: the edges cross");
  });

  it("accepts exactly the bands whose edges are in order everywhere", () => {
    const edge = fc
      .array(
        fc.tuple(
          fc.double({ min: 0.1, max: 50, noNaN: true }),
          fc.double({ min: 0.01, max: 1e4, noNaN: true }),
        ),
        { minLength: 2, maxLength: 6 },
      )
      .map((points) =>
        [...new Map(points.map((point) => [point[0], point])).values()].sort((a, b) => a[0] - b[0]),
      )
      .filter((points) => points.length >= 2);
    fc.assert(
      fc.property(edge, edge, fc.double({ min: 0, max: 1, noNaN: true }), (minimum, maximum, part) => {
        const one = band(minimum, maximum);
        const from = Math.max(minimum[0]?.[0] ?? 0, maximum[0]?.[0] ?? 0);
        const to = Math.min(minimum.at(-1)?.[0] ?? 0, maximum.at(-1)?.[0] ?? 0);
        if (from > to) {
          expect(checkBand(one)).toHaveLength(1);
          return;
        }
        const at = bandAt(one, Math.min(to, from + part * (to - from)));
        if (checkBand(one).length === 0 && at !== null)
          expect(at.minSeconds).toBeLessThanOrEqual(at.maxSeconds * (1 + 1e-9));
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    [[[1, 100]], "the minimum edge needs at least 2 points but has 1"],
    [
      [
        [0, 100],
        [2, 1],
      ],
      "minimum[0]: multiple must be positive but is 0",
    ],
    [
      [
        [1, 100],
        [2, -1],
      ],
      "minimum[1]: seconds must be positive but is -1",
    ],
    [
      [
        [1, 100],
        [Number.NaN, 1],
      ],
      "minimum[1]: multiple must be positive but is NaN",
    ],
    [
      [
        [2, 100],
        [2, 1],
      ],
      "minimum[1]: multiple must rise along the minimum edge but 2 follows 2",
    ],
    [
      [
        [2, 100],
        [1, 1],
      ],
      "minimum[1]: multiple must rise along the minimum edge but 1 follows 2",
    ],
  ] as [Band["minimum"], string][])("names the point that cannot be meant: %j", (minimum, problem) => {
    expect(
      checkBand(
        band(minimum, [
          [1, 1000],
          [10, 1000],
        ]),
      ),
    ).toContain(problem);
  });

  it("finds edges without a shared range", () => {
    expect(
      checkBand(
        band(
          [
            [1, 10],
            [2, 1],
          ],
          [
            [3, 10],
            [4, 1],
          ],
        ),
      ),
    ).toEqual(["the minimum and the maximum edge share no range of current"]);
  });
});

describe("judgeByBand", () => {
  const judged = (seconds: number, effectiveAmps: number, one: Band = squares) =>
    judgeByBand(
      trippedAt(seconds),
      one,
      { effectiveAmps, ratedAmps: 20 },
      { kind: "simple" },
      { confirmed: true },
    );

  it("takes the current as it was measured, not as it was meant", () => {
    // At 2 times rating the shortest time is 25 s, at 2.1 times 22.7 s.
    expect(judged(24, 40)).toMatchObject({
      verdict: { result: "fail", finding: "too fast", limitSeconds: 25 },
    });
    expect(judged(24, 42)).toMatchObject({
      verdict: { result: "pass", limitSet: "invented-band", row: null },
    });
    expect(judged(101, 40)).toMatchObject({ verdict: { result: "fail", finding: "late trip" } });
  });

  it("reads a band in amperes as amperes", () => {
    const amps = band(
      [
        [20, 100],
        [200, 1],
      ],
      [
        [40, 100],
        [400, 1],
      ],
      "amps",
    );
    expect(judged(24, 40, amps)).toMatchObject({ verdict: { finding: "too fast" } });
    expect(judged(26, 40, amps)).toMatchObject({ verdict: { result: "pass" } });
  });

  it("says where the band has no edges", () => {
    expect(judged(10, 30)).toEqual({
      ok: false,
      code: "outside-band",
      detail: "band invented-band has no edges at 1.5 times rating; it covers 2 to 10 times rating",
    });
  });

  it("decides a shot without a trip by the upper edge", () => {
    const held = (seconds: number) =>
      judgeByBand(
        heldFor(seconds),
        squares,
        { effectiveAmps: 40, ratedAmps: 20 },
        { kind: "simple" },
        { confirmed: true },
      );
    expect(held(100)).toMatchObject({ verdict: { result: "fail", finding: "no trip" } });
    expect(held(99)).toMatchObject({ verdict: { result: "undetermined" } });
  });

  it("judges by a line where the edges touch", () => {
    const line = band(
      [
        [1, 100],
        [10, 1],
      ],
      [
        [1, 100],
        [10, 1],
      ],
    );
    expect(judged(99, 20, line)).toMatchObject({ verdict: { result: "pass" } });
    expect(judged(101, 20, line)).toMatchObject({ verdict: { result: "fail" } });
  });

  it("throws on a rating or current that is no number", () => {
    expect(() => judged(1, Number.NaN)).toThrow(RangeError);
    expect(() =>
      judgeByBand(
        trippedAt(1),
        squares,
        { effectiveAmps: 40, ratedAmps: Number.NaN },
        { kind: "simple" },
        { confirmed: true },
      ),
    ).toThrow(/ratedAmps/);
  });
});
