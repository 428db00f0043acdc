import { readFileSync } from "node:fs";
import { type CsvTable, readCsvTable } from "../exchange/read-csv-table.ts";
import { InputError } from "./input-error.ts";

/** Reads a CSV file with the named columns. @throws InputError naming file, line and what is accepted */
export function readTableFile(
  path: string,
  needed: readonly string[],
  optional: readonly string[] = [],
): CsvTable {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    throw new InputError(
      `${path}: cannot be read: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
  const read = readCsvTable(text, needed, optional);
  if (!read.ok) throw new InputError(`${path}, line ${read.line}: ${read.problem}`);
  return read.table;
}
