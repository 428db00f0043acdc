import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { proportionFamilies } from "../../../src/core/stats/compute-families.ts";
import { expectRelative } from "./close-to.ts";

/** One fixture: a method computed outside this project, with the source of its values in the header. */
interface Fixture {
  family: string;
  source: string;
  records: { id: string; inputs: Record<string, unknown>; outputs: Record<string, unknown> }[];
}

const folder = join(import.meta.dirname, "../../fixtures/reference");

function fixtureOf(family: string): Fixture {
  return JSON.parse(readFileSync(join(folder, `${family.replace("/", "-")}.json`), "utf8"));
}

function expectSame(found: unknown, wanted: unknown, path: string): void {
  if (Array.isArray(wanted)) {
    expect(Array.isArray(found) ? found.length : found, path).toBe(wanted.length);
    for (const [index, one] of wanted.entries()) {
      expectSame((found as unknown[])[index], one, `${path}[${index}]`);
    }
  } else if (typeof wanted === "number") {
    expect(found, path).toBeTypeOf("number");
    expectRelative(found as number, wanted, 1e-9);
  } else if (wanted === null) {
    expect(found, path).toBeNull();
  } else {
    expect(String(found), path).toBe(wanted);
  }
}

describe.each(proportionFamilies.map((family) => [family.name, family] as const))("%s", (name, family) => {
  const fixture = fixtureOf(name);

  it("has records with a source", () => {
    expect(fixture.family).toBe(name);
    expect(fixture.source).not.toBe("");
    expect(fixture.records.length).toBeGreaterThan(0);
  });

  it.each(fixture.records.map((record) => [record.id, record] as const))("%s", (_id, record) => {
    const outputs = family.compute(record.inputs);
    expect(Object.keys(outputs)).toEqual(Object.keys(family.outputs));
    expect(Object.keys(record.inputs).sort()).toEqual(Object.keys(family.inputs).sort());
    for (const [key, wanted] of Object.entries(record.outputs)) expectSame(outputs[key], wanted, key);
  });
});
