import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { poolingFamilies } from "../../../src/core/stats/families/pooling-families.ts";
import { survivalFamilies } from "../../../src/core/stats/families/survival-families.ts";
import { expectRelative } from "./close-to.ts";

/** One fixture: a method computed outside this project, with the source of its values in the header. */
interface Fixture {
  family: string;
  source: string;
  records: { id: string; inputs: Record<string, unknown>; outputs: Record<string, unknown> }[];
}

const folder = join(import.meta.dirname, "../../fixtures/reference");

/** Relative tolerances for answers that are the maximum of a likelihood or of an iteration; all others are held to 1e-9. */
const tolerances: Readonly<Record<string, number>> = {
  glmm: 1e-6,
  "beta-binomial": 1e-7,
  "parametric/weibull": 1e-7,
  "parametric/lognormal": 1e-7,
  turnbull: 1e-4,
};

function fixtureOf(family: string): Fixture {
  return JSON.parse(readFileSync(join(folder, `${family.replace("/", "-")}.json`), "utf8"));
}

function expectSame(found: unknown, wanted: unknown, tolerance: number, path: string): void {
  if (typeof wanted === "number") {
    expect(found, path).toBeTypeOf("number");
    // a sum of squares that is 0 but for rounding has no relative error
    if (Math.abs((found as number) - wanted) > 1e-15) expectRelative(found as number, wanted, tolerance);
  } else if (Array.isArray(wanted)) {
    expect(Array.isArray(found) ? found.length : found, path).toBe(wanted.length);
    for (const [index, one] of wanted.entries()) {
      expectSame((found as unknown[])[index], one, tolerance, `${path}[${index}]`);
    }
  } else if (typeof wanted === "object" && wanted !== null) {
    for (const [key, one] of Object.entries(wanted)) {
      expectSame((found as Record<string, unknown>)[key], one, tolerance, `${path}.${key}`);
    }
  } else if (typeof wanted === "string") {
    expect(String(found), path).toBe(wanted);
  } else {
    expect(found, path).toBe(wanted);
  }
}

const families = [...poolingFamilies, ...survivalFamilies];

describe.each(families.map((family) => [family.name, family] as const))("%s", (name, family) => {
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
    for (const [key, wanted] of Object.entries(record.outputs)) {
      expectSame(outputs[key], wanted, tolerances[name] ?? 1e-9, key);
    }
  });
});
