import { parse } from "csv-parse/sync";

/** The fields of every line, empty lines as one empty field so that places keep their line; or why it cannot be read. */
export type ReadRows = { ok: true; rows: string[][] } | { ok: false; line: number; problem: string };

/** Splits a CSV text (RFC 4180, UTF-8, comma) into fields, one row for each line. */
export function readCsvRows(text: string): ReadRows {
  try {
    const rows = parse(text, { bom: true, trim: true, relax_column_count: true, skip_empty_lines: false });
    return { ok: true, rows };
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    return { ok: false, line, problem: error instanceof Error ? error.message : String(error) };
  }
}
