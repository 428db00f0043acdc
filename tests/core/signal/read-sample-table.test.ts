import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readSampleTable, type SampleTable } from "../../../src/core/signal/read-sample-table.ts";
import { context as shotContext } from "./_synthetic-shot.ts";

const context = { ...shotContext, ambientRange: null };
/** A table that is dark, flows from `onset` to `end`, and is dark again. */
function tableOf(times: readonly number[], onset: number, end: number, amps = 40): SampleTable {
  return { t_s: times, amps: times.map((t) => (t >= onset && t < end ? amps : 0)) };
}
const every = (step: number, to: number) =>
  Array.from({ length: Math.round(to / step) + 1 }, (_, i) => i * step);

function reading(table: SampleTable, changes = {}) {
  const found = readSampleTable(table, { ...context, ...changes });
  if (!found.ok) throw new Error(JSON.stringify(found));
  return found.reading;
}
function problems(table: SampleTable) {
  const found = readSampleTable(table, context);
  return found.ok ? [] : found.problems;
}

describe("a table of samples", () => {
  it("gives a trip with its interval between rows", () => {
    const found = reading(tableOf(every(0.1, 30), 1.05, 25.05));
    expect(found.outcome).toBe("tripped");
    expect(found.seconds).toBeCloseTo(24, 9);
    expect(found.interval?.lower).toBeCloseTo(23.9, 9);
    expect(found.interval?.upper).toBeCloseTo(24.1, 9);
    expect(found.effectiveAmps).toBe(40);
    expect(found.flags).toEqual([]);
    expect(found.uncertainty?.budget).toHaveLength(4);
    expect(found.samples).toBe(301);
  });

  it("that begins with current flowing counts from its first row, and says so", () => {
    const found = reading(tableOf(every(0.1, 30), 0, 24.05));
    expect(found.flags).toEqual(["onset-assumed"]);
    expect(found.interval?.lower).toBeCloseTo(24, 9);
    expect(found.interval?.upper).toBeCloseTo(24.1, 9);
  });

  it("that ends with current flowing is a hold for what it shows", () => {
    const found = reading(tableOf(every(0.1, 30), 1.05, 99));
    expect(found.outcome).toBe("held");
    expect(found.heldSeconds).toBeCloseTo(28.9, 9);
    expect(found.seconds).toBeNull();
    expect(found.uncertainty).toBeNull();
  });

  it("without current, or never near the target, is flagged as unusable", () => {
    expect(reading(tableOf(every(0.1, 30), 99, 100)).flags).toEqual(["no-onset"]);
    expect(reading(tableOf(every(0.1, 30), 1, 25, 30)).flags).toEqual(["never-reached-target"]);
  });

  it("may have any spacing; one far wider than the rest while current flows is a gap", () => {
    const dense = every(0.1, 30);
    const holed = dense.filter((t) => t < 10 || t > 12);
    expect(reading(tableOf(holed, 1.05, 25.05)).flags).toEqual(["gap"]);
    expect(reading(tableOf(holed, 1.05, 25.05)).seconds).toBeCloseTo(24, 9);
    const lateHole = dense.filter((t) => t < 24 || t > 27);
    const found = reading(tableOf(lateHole, 1.05, 25.05));
    expect(found.flags).toEqual(["gap"]);
    expect((found.interval?.upper ?? 0) - (found.interval?.lower ?? 0)).toBeGreaterThan(3);
    expect(
      reading(
        tableOf(
          dense.filter((t) => t < 26 || t > 29),
          1.05,
          25.05,
        ),
      ).flags,
    ).toEqual([]);
  });

  it("weighs current by energy along straight lines in its square", () => {
    const found = reading({ t_s: [0, 1, 2, 4], amps: [0, 30, 50, 0] });
    expect(found.effectiveAmps).toBeCloseTo(Math.sqrt((30 ** 2 + 50 ** 2) / 2), 6);
    expect([found.lowestAmps, found.highestAmps]).toEqual([30, 50]);
  });

  it("with a single row of current has that current", () => {
    const found = reading({ t_s: [0, 1, 2], amps: [0, 40, 0] });
    expect(found.effectiveAmps).toBe(40);
    expect(found.interval).toEqual({ lower: 0, upper: 2 });
  });
});

describe("a table that cannot be read", () => {
  it.each([
    ["a repeated time", [0, 1, 1, 2], [0, 40, 40, 0], 4, "t_s", "1 s"],
    ["a time that runs back", [0, 2, 1, 3], [0, 40, 40, 0], 4, "t_s", "1 s"],
    ["a negative current", [0, 1, 2, 3], [0, 40, -40, 0], 4, "amps", "-40"],
    ["a current that is no number", [0, 1, 2, 3], [0, Number.NaN, 40, 0], 3, "amps", "NaN"],
    ["an infinite current", [0, 1, 2, 3], [0, Number.POSITIVE_INFINITY, 40, 0], 3, "amps", "Infinity"],
    ["a time that is no number", [0, 1, Number.NaN, 3], [0, 40, 40, 0], 4, "t_s", "NaN"],
  ])("%s: line, column, value and what is accepted", (_, t_s, amps, line, column, found) => {
    expect(problems({ t_s, amps })).toEqual([{ line, column, found, accepted: expect.any(String) }]);
  });

  it("tells every problem, by the lines of its file where these are given", () => {
    const found = problems({ t_s: [0, 1, 1, 0.5], amps: [-1, 40, 40, 0], lines: [10, 11, 13, 14] });
    expect(found.map((one) => [one.line, one.column])).toEqual([
      [10, "amps"],
      [13, "t_s"],
      [14, "t_s"],
    ]);
  });

  it("is refused below two rows", () => {
    expect(readSampleTable({ t_s: [], amps: [] }, context)).toMatchObject({ ok: false, code: "empty" });
    expect(readSampleTable({ t_s: [1], amps: [40] }, context)).toMatchObject({ ok: false, code: "empty" });
  });

  it("is the caller's mistake where columns differ in length or the target is zero", () => {
    expect(() => readSampleTable({ t_s: [0, 1], amps: [0] }, context)).toThrow("1 and 2");
    expect(() => readSampleTable(tableOf([0, 1], 0, 1), { ...context, targetAmps: 0 })).toThrow("targetAmps");
  });
});

describe("laws", () => {
  const tables = fc
    .record({
      spacings: fc.array(fc.double({ min: 0.01, max: 2, noNaN: true }), { minLength: 5, maxLength: 60 }),
      onset: fc.double({ min: 0, max: 0.4, noNaN: true }),
      end: fc.double({ min: 0.5, max: 0.95, noNaN: true }),
    })
    .map(({ spacings, onset, end }) => {
      let sum = 0;
      const times = [0, ...spacings.map((spacing) => (sum += spacing))];
      return { times, onset: onset * sum + 1e-9, end: end * sum };
    });

  it("the true time lies in the interval, and leaving out rows never narrows it", () => {
    fc.assert(
      fc.property(tables, fc.nat(), ({ times, onset, end }, drop) => {
        const whole = reading(tableOf(times, onset, end));
        fc.pre(whole.interval !== null);
        expect(whole.interval?.lower).toBeLessThanOrEqual(end - onset + 1e-6);
        expect(whole.interval?.upper).toBeGreaterThanOrEqual(end - onset - 1e-6);
        const place = 1 + (drop % (times.length - 2));
        const fewer = reading(tableOf(times.toSpliced(place, 1), onset, end));
        if (fewer.interval === null || whole.interval === null) return;
        expect(fewer.interval.lower).toBeLessThanOrEqual(whole.interval.lower + 2e-6);
        expect(fewer.interval.upper).toBeGreaterThanOrEqual(whole.interval.upper - 2e-6);
      }),
    );
  });

  it("counting time from elsewhere changes nothing", () => {
    fc.assert(
      fc.property(tables, fc.integer({ min: -1000, max: 1000 }), ({ times, onset, end }, shift) => {
        const table = tableOf(times, onset, end);
        const moved = reading({ ...table, t_s: table.t_s.map((t) => t + shift) });
        const still = reading(table);
        expect(moved.heldSeconds).toBeCloseTo(still.heldSeconds, 5);
        expect(moved.interval?.upper ?? 0).toBeCloseTo(still.interval?.upper ?? 0, 5);
        expect(moved.outcome).toBe(still.outcome);
      }),
    );
  });
});
