import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import type { LimitSet } from "../../src/core/limits/limit-set.ts";

const folder = resolve(import.meta.dirname, "../../curves");

/** File names of all limit sets that are shipped. */
export const setFiles = readdirSync(folder).filter(
  (name) => name.endsWith(".json") && !name.endsWith(".schema.json"),
);

/** Text of a file in `curves`. */
export const curveText = (name: string) => readFileSync(join(folder, name), "utf8");

/** A shipped limit set, by identifier. */
export const shippedSet = (id: string) => JSON.parse(curveText(`${id}.json`)) as LimitSet;

/** Rows of a fixture table, each as an object by column; lines that begin with # are remarks. */
export function fixtureRows(name: string): Record<string, string>[] {
  const path = resolve(import.meta.dirname, "../fixtures/limits", name);
  const [header, ...lines] = readFileSync(path, "utf8")
    .split("\n")
    .filter((line) => line !== "" && !line.startsWith("#"));
  const columns = header?.split(",") ?? [];
  return lines.map((line) => {
    const fields = line.split(",");
    if (fields.length !== columns.length) throw new Error(`${name}: ${line} has ${fields.length} fields`);
    return Object.fromEntries(columns.map((column, at) => [column, fields[at] ?? ""]));
  });
}
