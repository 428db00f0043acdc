import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect } from "vitest";

/** One record of tests/fixtures/reference: made with R 4.2.2, see its `source`. */
export interface ReferenceRecord {
  id: string;
  inputs: Record<string, number>;
  outputs: Record<string, number | number[]>;
}

/** All records of a family; "Infinity" and "-Infinity" are the numbers. */
export function referenceRecords(family: string): ReferenceRecord[] {
  const path = resolve(import.meta.dirname, `../../fixtures/reference/${family}.json`);
  return JSON.parse(readFileSync(path, "utf8"), (_key, value: unknown) =>
    value === "Infinity" || value === "-Infinity" ? Number(value) : value,
  ) as ReferenceRecord[];
}

/** Relative closeness. */
export function expectClose(found: number, expected: number, relative: number): void {
  expect(Math.abs(found - expected), `${found} is not ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );
}
