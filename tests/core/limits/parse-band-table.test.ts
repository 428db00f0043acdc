import { describe, expect, it } from "vitest";
import { parseBandTable } from "../../../src/core/limits/parse-band-table.ts";

const rows = (text: string) => text.split("\n").map((line) => line.split(","));

describe("parseBandTable", () => {
  it("reads edges in multiples or amperes, passing over empty rows", () => {
    expect(
      parseBandTable(
        rows("edge,multiple,seconds\nminimum,1.5,40\n\nminimum, 6 ,1e0\nmaximum,1.5,400\nmaximum,6,.5e1"),
      ),
    ).toEqual({
      ok: true,
      edges: {
        current: "multiple",
        minimum: [
          [1.5, 40],
          [6, 1],
        ],
        maximum: [
          [1.5, 400],
          [6, 5],
        ],
      },
    });
    expect(
      parseBandTable(rows("Edge,Amps,Seconds\nminimum,30,40\nminimum,60,4\nmaximum,30,400\nmaximum,60,40")),
    ).toMatchObject({
      ok: true,
      edges: { current: "amps" },
    });
  });

  it.each([
    ["m,t\n1,2", 'line 1: expected the header edge,amps,seconds or edge,multiple,seconds but found "m,t"'],
    ["", "line 1: expected the header"],
    ["edge,amps,seconds\nlow,1,2", 'line 2: expected edge minimum and maximum but found "low"'],
    ["edge,amps,seconds\nminimum,1", "line 2: expected 3 fields but found 2"],
    ["edge,amps,seconds\nminimum,1,2,3", "line 2: expected 3 fields but found 4"],
    ["edge,amps,seconds\nminimum,,2", 'line 2: amps must be a number but is ""'],
    ["edge,amps,seconds\nminimum,0x10,2", 'line 2: amps must be a number but is "0x10"'],
    ["edge,amps,seconds\nminimum,1,two", 'line 2: seconds must be a number but is "two"'],
    ["edge,amps,seconds\nminimum,1,NaN", 'line 2: seconds must be a number but is "NaN"'],
    [
      "edge,amps,seconds\nminimum,1,9\nminimum,2,-3\nmaximum,1,9\nmaximum,2,9",
      "line 3: seconds must be positive but is -3",
    ],
    [
      "edge,amps,seconds\nminimum,1,9\nmaximum,1,9\nminimum,1,3\nmaximum,2,9",
      "line 4: amps must rise along the minimum edge but 1 follows 1",
    ],
    [
      "edge,amps,seconds\nminimum,1,9\nminimum,3,3\nmaximum,1,9\nmaximum,2,1\nmaximum,3,4",
      "line 5: the edges cross; at 2 A the minimum is 4.5 s and the maximum 1 s",
    ],
    ["edge,amps,seconds\nminimum,1,9\nminimum,3,3", "the maximum edge needs at least 2 points but has 0"],
  ])("names the line: %j", (text, problem) => {
    const parsed = parseBandTable(rows(text));
    expect(parsed.ok ? [] : parsed.problems).toContainEqual(expect.stringContaining(problem));
  });

  it("tells every wrong line at once, counted from where the table begins in its file", () => {
    const parsed = parseBandTable(rows("edge,amps,seconds\nx,1,2\nminimum,?,2\nminimum,?,?"), 10);
    expect(parsed.ok ? [] : parsed.problems.map((problem) => problem.slice(0, 8))).toEqual([
      "line 11:",
      "line 12:",
      "line 13:",
      "line 13:",
    ]);
  });
});
