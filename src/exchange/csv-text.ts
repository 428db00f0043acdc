import { stringify } from "csv-stringify/sync";
import { type Cell, safeCell } from "./safe-cell.ts";

/** A table to be written: the names of its columns, and rows of as many cells. */
export interface Table {
  header: readonly string[];
  rows: readonly (readonly Cell[])[];
}

/**
 * A table as CSV (RFC 4180 with LF line ends, UTF-8), in which no cell starts a formula.
 *
 * @throws RangeError for a row that is not as long as the header
 */
export function csvText({ header, rows }: Table): string {
  for (const [at, row] of rows.entries())
    if (row.length !== header.length)
      throw new RangeError(`row ${at + 1} has ${row.length} cells; the header has ${header.length}`);
  return stringify([header.map(safeCell), ...rows.map((row) => row.map(safeCell))], {
    record_delimiter: "unix",
  });
}
