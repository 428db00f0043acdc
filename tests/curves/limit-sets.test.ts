import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { Value } from "typebox/value";
import { describe, expect, it } from "vitest";
import { limitSetSchema, publishedLimitSetSchema } from "../../src/contract/limit-set-schema.ts";
import { checkLimitSet } from "../../src/core/limits/check-limit-set.ts";
import type { LimitRow } from "../../src/core/limits/limit-set.ts";
import { curveText, setFiles, shippedSet } from "./shipped-sets.ts";

const published = resolve(import.meta.dirname, "../../curves/limit-set.schema.json");
const sets = setFiles.map((name) => shippedSet(name.replace(/\.json$/, "")));
const rows = sets.flatMap((set) => set.rows);

describe("the published JSON Schema", () => {
  const text = `${JSON.stringify(publishedLimitSetSchema(), null, 2)}\n`;
  const validate = new Ajv2020({ allErrors: true }).compile(JSON.parse(text));

  it("is the schema by which the program reads (UPDATE_GENERATED=1 writes it anew)", () => {
    if (process.env.UPDATE_GENERATED === "1") writeFileSync(published, text);
    expect(readFileSync(published, "utf8")).toBe(text);
  });

  it.each(setFiles)("accepts %s by another validator as well", (name) => {
    expect(validate(JSON.parse(curveText(name))), JSON.stringify(validate.errors)).toBe(true);
    expect(Value.Check(limitSetSchema, JSON.parse(curveText(name)))).toBe(true);
  });

  it.each([
    ["an unknown field", (row: Record<string, unknown>) => ({ ...row, colour: "red" })],
    ["a multiple of 0", (row: Record<string, unknown>) => ({ ...row, multiple: 0 })],
    [
      "a time in words",
      (row: Record<string, unknown>) => ({ ...row, requirement: { kind: "trip-within", maxSeconds: "1 h" } }),
    ],
    ["no source", ({ source: _source, ...row }: Record<string, unknown>) => row],
    ["an unknown loading", (row: Record<string, unknown>) => ({ ...row, loading: "two poles" })],
  ])("refuses a row with %s", (_what, spoil) => {
    const set = JSON.parse(curveText("ul-489-calibration.json")) as { rows: Record<string, unknown>[] };
    const spoiled = { ...set, rows: [spoil(set.rows[0] ?? {})] };
    expect(validate(spoiled)).toBe(false);
    expect(Value.Check(limitSetSchema, spoiled)).toBe(false);
  });
});

describe("every shipped set", () => {
  it.each(sets.map((set) => [set.id, set] as const))(
    "%s is sound and stands in the file of its name",
    (id, set) => {
      expect(checkLimitSet(set)).toEqual([]);
      expect(setFiles).toContain(`${id}.json`);
    },
  );

  it("claims nowhere that a document was read", () => {
    const sources = sets.flatMap((set) =>
      [...set.rows, ...(set.instantaneous ?? [])].map((row) => row.source),
    );
    expect(sources.length).toBeGreaterThan(70);
    expect(sources.filter((source) => source.standing === "read in the document")).toEqual([]);
  });

  it("gives larger ratings at least as much time within a test", () => {
    for (const set of sets) {
      for (const [at, row] of set.rows.entries()) {
        const before = set.rows[at - 1];
        const sameColumn =
          before?.test === row.test &&
          before.voltsTo === row.voltsTo &&
          before.typeLetters?.join() === row.typeLetters?.join();
        if (sameColumn) expect(longest(row), `${set.id} ${row.id}`).toBeGreaterThanOrEqual(longest(before));
      }
    }
  });

  it.each(setFiles)("%s gives no addresses and no codes for its sources", (name) => {
    const { $schema: _schema, ...rest } = JSON.parse(curveText(name)) as Record<string, unknown>;
    expect(JSON.stringify(rest)).not.toMatch(/https?:|www\.|\.com\b|\.org\b|\bS\d{1,2}\b/);
  });
});

function longest({ requirement }: LimitRow): number {
  return requirement.kind === "hold-for" ? requirement.seconds : requirement.maxSeconds;
}

/** Statements met in public texts that contradict the documents or better sources. */
describe("statements known to be wrong are in no set", () => {
  const iec947 = shippedSet("iec-60947-2").rows;
  const iec898 = shippedSet("iec-60898-1").rows;

  it("IEC 60947-2: 2 h up to 630 A, 4 h above", () => {
    expect(
      iec947.filter((row) => longest(row) > 7200 || row.ratedToAmps === 630 || row.ratedOverAmps === 630),
    ).toEqual([]);
  });

  it("type B 3 to 4.5 times, and maker-defined magnetic bands", () => {
    const foreign = [4.5, 3.2, 4.8, 7, 8, 12, 14];
    expect([...iec898, ...iec947].filter((row) => foreign.includes(row.multiple))).toEqual([]);
  });

  it("1.13 times trips within 1 h: it is the point of no trip", () => {
    const at113 = rows.filter((row) => row.multiple === 1.13);
    expect(at113.length).toBeGreaterThan(0);
    for (const row of at113) expect(row.requirement.kind).toBe("hold-for");
  });

  it("1.45 times trips in under 0.1 s; 2.55 times between 15 s and 60 s", () => {
    for (const row of rows.filter((one) => one.multiple === 1.45))
      expect(longest(row)).toBeGreaterThanOrEqual(3600);
    for (const row of rows.filter((one) => one.multiple === 2.55))
      expect(row.requirement).toMatchObject({ minSeconds: 1 });
  });

  it("2 h at 1.13 and 1.45 times for all sizes: only above 63 A", () => {
    for (const row of iec898.filter((one) => one.test === "a" || one.test === "b")) {
      expect(longest(row)).toBe(row.ratedToAmps === 63 ? 3600 : 7200);
    }
  });
});
