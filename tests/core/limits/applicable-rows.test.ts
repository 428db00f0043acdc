import { describe, expect, it } from "vitest";
import { findTestPoint, programmeFor, rowsFor } from "../../../src/core/limits/applicable-rows.ts";
import type { Specimen } from "../../../src/core/specimen/specimen.ts";
import { shippedSet } from "../../curves/shipped-sets.ts";

const specimen = (more: Partial<Specimen> = {}): Specimen => ({
  label: "invented",
  ratedAmps: 20,
  poles: 1,
  volts: 240,
  ...more,
});
const ul = shippedSet("ul-489-calibration");
const ab4 = shippedSet("nema-ab-4-inverse-time");
const iec = shippedSet("iec-60898-1");

/** The point, or an error that says why there is none. */
function point(...request: Parameters<typeof findTestPoint>) {
  const found = findTestPoint(...request);
  if (!found.ok) throw new Error(`${found.code}: ${found.detail}`);
  return found.point;
}

/** The refusal, or an error where there is none. */
function refusal(...request: Parameters<typeof findTestPoint>) {
  const found = findTestPoint(...request);
  if (found.ok) throw new Error(`found row ${found.point.row.id}`);
  return found;
}

describe("rowsFor", () => {
  it("takes the lower end of a range out and the upper end in", () => {
    const at200 = (ratedAmps: number) =>
      rowsFor(ul, specimen({ ratedAmps })).find((row) => row.multiple === 2)?.id;
    expect([at200(30), at200(30.5), at200(50), at200(51), at200(6000)]).toEqual([
      "200-to-30",
      "200-to-50",
      "200-to-50",
      "200-to-100",
      "200-to-6000",
    ]);
    expect(rowsFor(ul, specimen({ ratedAmps: 6001 }))).toEqual([]);
  });

  it("takes the class of voltage", () => {
    const seconds = (volts: number) => rowsFor(ab4, specimen({ volts })).map((row) => row.requirement);
    expect(seconds(250)).toEqual([{ kind: "trip-within", maxSeconds: 50 }]);
    expect(seconds(251)).toEqual([{ kind: "trip-within", maxSeconds: 70 }]);
    expect(seconds(601)).toEqual([]);
  });

  it("takes a single rating as that rating only", () => {
    const ids = (ratedAmps: number) => rowsFor(ab4, specimen({ ratedAmps, volts: 480 })).map((row) => row.id);
    expect([ids(5000), ids(5500), ids(6000), ids(6001)]).toEqual([
      ["300-600v-to-5000"],
      [],
      ["300-600v-at-6000"],
      [],
    ]);
  });

  it("gives a specimen nothing that needs what is not known of it", () => {
    expect(rowsFor(iec, specimen())).toEqual([]);
    expect(rowsFor(iec, specimen({ typeLetter: "C" })).map((row) => row.id)).toEqual([
      "a-to-63",
      "b-to-63",
      "c-to-32",
      "d-C-to-32",
      "e-C",
    ]);
    const hot = shippedSet("ul-489-hold-40-c");
    expect(rowsFor(hot, specimen())).toEqual([]);
    expect(rowsFor(hot, specimen({ calibratedCelsius: 25 }))).toEqual([]);
    expect(rowsFor(hot, specimen({ calibratedCelsius: 40 }))).toHaveLength(1);
  });

  it.each([
    [{ ratedAmps: 0 }, /ratedAmps must be a positive number of amperes but is 0/],
    [{ ratedAmps: Number.NaN }, /ratedAmps/],
    [{ volts: -1 }, /volts/],
    [{ poles: 4 as 3 }, /poles must be 1, 2 or 3 but is 4/],
  ])("throws on a specimen with %o", (more, words) => {
    expect(() => rowsFor(ul, specimen(more))).toThrow(words);
  });
});

describe("programmeFor", () => {
  it("runs 200 % on each pole alone, then 135 % and the hold on all", () => {
    const steps = programmeFor(ul, specimen({ poles: 3, ratedAmps: 225 })).map((one) => [
      one.row.multiple,
      one.loading,
      one.targetAmps,
    ]);
    expect(steps).toEqual([
      [2, "pole-1", 450],
      [2, "pole-2", 450],
      [2, "pole-3", 450],
      [1.35, "all", 303.75],
      [1, "all", 225],
    ]);
  });

  it("knows one pole by its name", () => {
    expect(programmeFor(ul, specimen()).map((one) => one.loading)).toEqual(["pole-1", "pole-1", "pole-1"]);
  });

  it("puts a test straight after the one that it starts from", () => {
    const rows = programmeFor(iec, specimen({ typeLetter: "B" })).map((one) => one.row);
    for (const [at, row] of rows.entries()) {
      if (row.start !== "cold") expect(rows[at - 1]?.test).toBe(row.start.after);
    }
  });

  it("gives currents without the dust of binary fractions", () => {
    expect(programmeFor(iec, specimen({ typeLetter: "B", ratedAmps: 63 }))[0]?.targetAmps).toBe(71.19);
  });
});

describe("findTestPoint", () => {
  it("matches a multiple within 1e-9", () => {
    expect(point(ul, specimen(), 1.35 + 5e-10).row.id).toBe("135-to-50");
    expect(refusal(ul, specimen(), 1.35 + 2e-9).code).toBe("no-row-for-multiple");
  });

  it("takes the first loading of the programme where none is named", () => {
    expect(point(ul, specimen({ poles: 2 }), 2).loading).toBe("pole-1");
    expect(point(ul, specimen({ poles: 2 }), 1.35).loading).toBe("all");
    expect(point(ul, specimen({ poles: 2 }), 1.35, "pole-2").loading).toBe("pole-2");
    expect(point(ul, specimen(), 2, "all").loading).toBe("all");
  });

  it("tells apart every way in which there is no row, and says what there is", () => {
    expect(refusal(ul, specimen(), 1.6)).toMatchObject({
      code: "no-row-for-multiple",
      detail:
        "ul-489-calibration has no row at 1.6 times rating; for this specimen (20 A) the set has the multiples 2, 1.35 and 1",
    });
    const large = refusal(ul, specimen({ ratedAmps: 7000 }), 2);
    expect(large.code).toBe("no-row-for-rating");
    expect(large.detail).toMatch(/for 7000 A; its rows there are for up to 30 A, .* over 5000 up to 6000 A$/);
    expect(refusal(ab4, specimen({ volts: 690 }), 3)).toMatchObject({
      code: "no-row-for-volts",
      detail: expect.stringContaining(
        "at 690 V; its rows there are for up to 250 V and over 250 up to 600 V",
      ),
    });
    expect(refusal(iec, specimen(), 1.13)).toMatchObject({
      code: "no-row-for-type",
      detail: expect.stringContaining("without a type letter; its rows there are for type B, C and D"),
    });
    expect(refusal(iec, specimen({ typeLetter: "D" }), 3)).toMatchObject({
      code: "no-row-for-type",
      detail: expect.stringMatching(
        /type D; its rows there are for type B; .* multiples 1\.13, 1\.45, 2\.55, 10 and 20/,
      ),
    });
    const unmarked = refusal(shippedSet("ul-489-hold-40-c"), specimen(), 1);
    expect(unmarked).toMatchObject({
      code: "no-row-for-calibration",
      detail: expect.stringContaining("40 degrees C; found no such mark"),
    });
    const other = refusal(shippedSet("ul-489-hold-40-c"), specimen({ calibratedCelsius: 25 }), 1);
    expect(other.detail).toContain("found 25 degrees C");
    expect(refusal(shippedSet("nema-ab-4-instantaneous"), specimen(), 3).detail).toContain(
      "no test points at all",
    );
  });

  it("refuses a loading that the row does not speak of, and a pole that is not there", () => {
    expect(refusal(ul, specimen({ poles: 3 }), 2, "all")).toMatchObject({
      code: "loading-not-in-row",
      detail: expect.stringMatching(
        /speaks of each pole alone; found loading all, accepted are pole-1, pole-2 and pole-3/,
      ),
    });
    expect(refusal(ul, specimen({ poles: 2 }), 2, "pole-3")).toMatchObject({
      code: "no-such-pole",
      detail: expect.stringContaining("accepted are pole-1, pole-2 and all"),
    });
  });

  it("does not choose between two rows", () => {
    const twice = {
      ...ul,
      rows: [...ul.rows, ...ul.rows.slice(0, 1).map((row) => ({ ...row, id: "again" }))],
    };
    expect(refusal(twice, specimen(), 2)).toMatchObject({
      code: "several-rows",
      detail: expect.stringContaining("200-to-30 and again"),
    });
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])("throws on a multiple of %s", (multiple) => {
    expect(() => findTestPoint(ul, specimen(), multiple)).toThrow(/multiple must be a positive number/);
  });
});
