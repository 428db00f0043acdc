import { describe, expect, it } from "vitest";
import type { LimitRow, LimitSet, RowSource } from "../../src/core/limits/limit-set.ts";
import { fixtureRows, shippedSet } from "./shipped-sets.ts";

/**
 * Every value of every set against a copy that was typed apart from it (tests/fixtures/limits). Ratings are asked for just above
 * the lower end, in the middle and at the upper end of each range.
 */
function ratingsIn(over: number, to: number): number[] {
  return over === to ? [to] : [over + 0.001, (over + to) / 2, to];
}

const number = (text: string | undefined) => (text === undefined || text === "" ? null : Number(text));

function rowsAt(
  set: LimitSet,
  multiple: number,
  amps: number,
  more: (row: LimitRow) => boolean = () => true,
): LimitRow[] {
  return set.rows.filter(
    (row) =>
      row.multiple === multiple &&
      (row.ratedOverAmps === row.ratedToAmps
        ? amps === row.ratedToAmps
        : amps > row.ratedOverAmps && amps <= (row.ratedToAmps ?? Number.POSITIVE_INFINITY)) &&
      more(row),
  );
}

/** The only row there; anything else is an error in the set. */
function only(rows: LimitRow[]): LimitRow {
  expect(rows.map((row) => row.id)).toHaveLength(1);
  return rows[0] as LimitRow;
}

/** The range of ratings that a row must have, from a line of a table. */
const rangeOf = (line: Record<string, string>) => ({
  ratedOverAmps: Number(line.in_over_a),
  ratedToAmps: number(line.in_to_a),
});

const ambient25 = { lowestCelsius: 22, highestCelsius: 28 };
const ambient30 = { lowestCelsius: 27, highestCelsius: 33 };

/** What a mark of the gathered tables means for a source. */
function standingOf(mark: string): Pick<RowSource, "standing" | "doubtful"> {
  if (mark.startsWith("MEMORY")) return { standing: "from memory", doubtful: mark.startsWith("MEMORY?") };
  return { standing: "seen second-hand", doubtful: false };
}

describe("UL 489 calibration points", () => {
  const set = shippedSet("ul-489-calibration");
  const table = fixtureRows("ul-489.csv");

  it.each(table)("over $in_over_a A up to $in_to_a A", (line) => {
    for (const amps of ratingsIn(Number(line.in_over_a), Number(line.in_to_a))) {
      const at200 = only(rowsAt(set, 2, amps));
      expect(at200.requirement).toEqual({ kind: "trip-within", maxSeconds: Number(line.t200_max_s) });
      expect(at200.source).toMatchObject(standingOf(line.mark200 ?? ""));
      expect(at200).toMatchObject({ ...rangeOf(line), loading: "each pole alone", start: "cold" });
      const at135 = only(rowsAt(set, 1.35, amps));
      expect(at135.requirement).toEqual({ kind: "trip-within", maxSeconds: Number(line.t135_max_s) });
      expect(at135.source).toMatchObject(standingOf(line.mark135 ?? ""));
      expect(at135.loading).toBe("either");
    }
  });

  it("has a row for each line of the table and no other at 200 %", () => {
    expect(set.rows.filter((row) => row.multiple === 2)).toHaveLength(table.length);
    expect([...new Set(set.rows.map((row) => row.multiple))]).toEqual([2, 1.35, 1]);
    expect(rowsAt(set, 1.35, 6001)).toEqual([]);
    for (const row of set.rows) expect(row).toMatchObject({ start: "cold", ambient: ambient25 });
  });

  it("marks the time of its hold as our own choice, and says that none is published", () => {
    const holds = set.rows.filter((row) => row.multiple === 1);
    expect(holds.map((row) => [row.ratedToAmps, row.requirement])).toEqual([
      [50, { kind: "hold-for", seconds: 3600, until: "temperatures settle" }],
      [6000, { kind: "hold-for", seconds: 7200, until: "temperatures settle" }],
    ]);
    for (const { source } of holds) {
      expect(source.standing).toBe("our own choice");
      expect(source.note).toMatch(/publish no fixed time.*our own working value/);
    }
  });

  it("does not pretend to know the instantaneous tolerance", () => {
    expect(set.instantaneous).toMatchObject([
      { low: -0.2, high: 0.3, source: { standing: "from memory", doubtful: true } },
    ]);
  });
});

describe("UL 489 hold at 40 degrees C", () => {
  it("is only for specimens so marked, and its times are our own", () => {
    const set = shippedSet("ul-489-hold-40-c");
    expect(set.rows.map((row) => [row.ratedOverAmps, row.ratedToAmps, row.requirement])).toEqual([
      [0, 50, { kind: "hold-for", seconds: 3600, until: "temperatures settle" }],
      [50, 6000, { kind: "hold-for", seconds: 7200, until: "temperatures settle" }],
    ]);
    for (const row of set.rows) {
      expect(row).toMatchObject({
        multiple: 1,
        start: "cold",
        ambient: { lowestCelsius: 37, highestCelsius: 43 },
        calibratedCelsius: 40,
        source: { standing: "our own choice" },
      });
    }
  });
});

describe("W-C-375E", () => {
  // Clauses 3.20 and 4.7.17: 250 % within the 200 % limit for the rating, at 25 +/- 3 degrees C.
  it.each(fixtureRows("ul-489.csv"))("over $in_over_a A up to $in_to_a A", (line) => {
    for (const amps of ratingsIn(Number(line.in_over_a), Number(line.in_to_a))) {
      const row = only(rowsAt(shippedSet("w-c-375e"), 2.5, amps));
      expect(row.requirement).toEqual({ kind: "trip-within", maxSeconds: Number(line.t200_max_s) });
      expect(row.source).toMatchObject(standingOf(line.mark200 ?? ""));
      expect(row).toMatchObject({ ...rangeOf(line), start: "cold", ambient: ambient25 });
    }
  });
});

describe("NEMA AB 4 inverse time at 300 %", () => {
  const set = shippedSet("nema-ab-4-inverse-time");
  const table = fixtureRows("nema-ab-4-inverse-time.csv");
  const classes = [
    { column: "max_s_le250v", over: 0, to: 250 },
    { column: "max_s_251_600v", over: 250, to: 600 },
  ];

  it.each(table)("over $in_over_a A up to $in_to_a A", (line) => {
    for (const { column, over, to } of classes) {
      for (const amps of ratingsIn(Number(line.in_over_a), Number(line.in_to_a))) {
        const rows = rowsAt(set, 3, amps, (row) => row.voltsOver === over && row.voltsTo === to);
        const maxSeconds = number(line[column]);
        if (maxSeconds === null) {
          expect(rows).toEqual([]);
          continue;
        }
        const row = only(rows);
        expect(row.requirement).toEqual({ kind: "trip-within", maxSeconds });
        expect(row).toMatchObject({
          ...rangeOf(line),
          loading: "each pole alone",
          start: "cold",
          ambient: null,
        });
        // Only the first cell of the lower class was seen anywhere.
        const seen = over === 0 && line.in_over_a === "0";
        expect(row.source).toMatchObject(standingOf(seen ? "ONE SOURCE" : "MEMORY"));
      }
    }
  });

  it("has as many rows as the table has cells", () => {
    const cells = table.flatMap((line) => classes.map(({ column }) => number(line[column])));
    expect(set.rows).toHaveLength(cells.filter((cell) => cell !== null).length);
  });

  it("has no row between 5000 A and the single rating of 6000 A", () => {
    expect(rowsAt(set, 3, 5500)).toEqual([]);
  });
});

describe("NEMA AB 4 instantaneous tolerances", () => {
  it("takes each from what the document takes it from", () => {
    const rows = shippedSet("nema-ab-4-instantaneous").instantaneous ?? [];
    expect(rows.map((row) => [row.tripType, row.low, row.high, row.takenFrom, row.source.standing])).toEqual([
      ["adjustable thermal-magnetic", -0.3, 0.4, "the nominal setting", "seen second-hand"],
      ["electronic", -0.3, 0.3, "the nominal setting", "from memory"],
      ["non-adjustable", -0.25, 0.25, "the low and high edge of the published band", "from memory"],
    ]);
  });
});

describe("NEMA AB 4 rated hold-in", () => {
  it("runs to a stable temperature on all poles; the times are our own", () => {
    const set = shippedSet("nema-ab-4-hold");
    expect(set.rows.map((row) => [row.ratedOverAmps, row.ratedToAmps, row.multiple])).toEqual([
      [0, 225, 1],
      [225, null, 1],
    ]);
    expect(set.rows.map((row) => row.requirement)).toMatchObject([{ seconds: 7200 }, { seconds: 14400 }]);
    for (const row of set.rows) {
      expect(row).toMatchObject({ loading: "all poles", start: "cold", ambient: ambient25 });
      expect(row.requirement).toMatchObject({ until: expect.stringContaining("three readings") });
      expect(row.source).toMatchObject({ standing: "our own choice", clause: "5.7", edition: "1996" });
      expect(row.source.note).toContain("our own working value");
    }
  });
});

describe("IEC 60898-1", () => {
  const set = shippedSet("iec-60898-1");
  const table = fixtureRows("iec-60898-1.csv");

  it.each(table)("type $type test $test at $mult times, over $in_over_a A up to $in_to_a A", (line) => {
    for (const letter of (line.type ?? "") as Iterable<"B" | "C" | "D">) {
      for (const amps of ratingsIn(Number(line.in_over_a), Number(line.in_to_a))) {
        const row = only(
          rowsAt(
            set,
            Number(line.mult),
            amps,
            (one) => one.test === line.test && one.typeLetters?.includes(letter) === true,
          ),
        );
        const maxSeconds = Number(line.t_max_s);
        const minSeconds = number(line.t_min_s);
        expect(row.requirement).toEqual(
          line.expect === "no-trip"
            ? { kind: "hold-for", seconds: maxSeconds }
            : minSeconds === null
              ? { kind: "trip-within", maxSeconds }
              : { kind: "trip-between", minSeconds, maxSeconds },
        );
        expect(row.start).toEqual(line.start === "cold" ? "cold" : { after: "a" });
        expect(row.source).toMatchObject(standingOf(line.mark ?? ""));
        // The reference temperature is 30 degrees C.
        expect(row).toMatchObject({ ...rangeOf(line), ambient: ambient30 });
      }
    }
  });

  it("has a row for each line of the table", () => {
    expect(set.rows).toHaveLength(table.length);
  });

  it("keeps the older form of test d apart: no trip in 0.1 s", () => {
    const older = shippedSet("iec-60898-1-older-test-d").rows;
    expect(older.map((row) => [row.typeLetters, row.multiple, row.requirement])).toEqual([
      [["B"], 3, { kind: "hold-for", seconds: 0.1 }],
      [["C"], 5, { kind: "hold-for", seconds: 0.1 }],
      [["D"], 10, { kind: "hold-for", seconds: 0.1 }],
    ]);
    for (const row of older)
      expect(row).toMatchObject({ ratedOverAmps: 0, ratedToAmps: 125, start: "cold", ambient: ambient30 });
  });
});

describe("IEC 60947-2", () => {
  const set = shippedSet("iec-60947-2");
  const table = fixtureRows("iec-60947-2.csv");

  it.each(table)("$mult times, over $in_over_a A up to $in_to_a A", (line) => {
    for (const amps of ratingsIn(Number(line.in_over_a), number(line.in_to_a) ?? 6300)) {
      const row = only(rowsAt(set, Number(line.mult), amps));
      const seconds = Number(line.t_max_s);
      expect(row.requirement).toEqual(
        line.expect === "no-trip"
          ? { kind: "hold-for", seconds }
          : { kind: "trip-within", maxSeconds: seconds },
      );
      expect(row).toMatchObject({ ...rangeOf(line), loading: "all poles", ambient: null });
      expect(row.start).toEqual(line.expect === "no-trip" ? "cold" : { after: "conventional non-tripping" });
      expect(row.source).toMatchObject(standingOf(line.mark ?? ""));
    }
  });

  it("has a row for each line of the table, and the release at +/- 20 % within 0.2 s", () => {
    expect(set.rows).toHaveLength(table.length);
    expect(set.instantaneous).toMatchObject([
      { low: -0.2, high: 0.2, takenFrom: "the nominal setting", withinSeconds: 0.2 },
    ]);
  });
});
