import { parse } from "csv-parse/sync";

/** A table as read from CSV: its header, and each row with the line on which it begins. */
export interface CsvTable {
  header: string[];
  rows: { line: number; cells: Readonly<Record<string, string>> }[];
}

/** A table, or why it cannot be read, with the line. */
export type ReadTable = { ok: true; table: CsvTable } | { ok: false; line: number; problem: string };

/**
 * Reads a CSV text (RFC 4180, UTF-8, comma) with a header.
 *
 * @param needed columns that must be there; `optional` may be; any other is refused
 */
export function readCsvTable(
  text: string,
  needed: readonly string[],
  optional: readonly string[] = [],
): ReadTable {
  type Line = { record: string[]; info: { lines: number } };
  let lines: Line[];
  try {
    lines = parse(text, {
      bom: true,
      info: true,
      trim: true,
      skip_empty_lines: true,
      relax_column_count: true,
    }) as unknown as Line[];
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    return { ok: false, line, problem: error instanceof Error ? error.message : String(error) };
  }
  const header = lines[0]?.record ?? [];
  const accepted = [...needed, ...optional.map((name) => `${name} (optional)`)].join(", ");
  const missing = needed.filter((name) => !header.includes(name));
  const unknown = header.filter((name) => !needed.includes(name) && !optional.includes(name));
  const twice = header.filter((name, at) => header.indexOf(name) !== at);
  if (missing.length > 0 || unknown.length > 0 || twice.length > 0) {
    const found = header.length === 0 ? "nothing" : header.join(", ");
    return { ok: false, line: 1, problem: `found the columns ${found}; accepted: ${accepted}` };
  }
  const rows: CsvTable["rows"] = [];
  for (const { record, info } of lines.slice(1)) {
    if (record.length !== header.length) {
      return {
        ok: false,
        line: info.lines,
        problem: `found ${record.length} fields; the header has ${header.length}`,
      };
    }
    rows.push({
      line: info.lines,
      cells: Object.fromEntries(header.map((name, at) => [name, record[at] ?? ""])),
    });
  }
  return { ok: true, table: { header, rows } };
}

/** A decimal number as a person writes it; NaN for anything else, an empty field too. */
export function decimalNumber(text: string): number {
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
}
