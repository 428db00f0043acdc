import { namedList } from "./_words.ts";
import { type Band, checkBand, type EdgePoint } from "./band.ts";

/** The edges of a band as read from a table, or every problem with the line it stands on. */
export type ParsedBandTable =
  | { ok: true; edges: Pick<Band, "current" | "minimum" | "maximum"> }
  | { ok: false; problems: string[] };

const headers = { amps: "edge,amps,seconds", multiple: "edge,multiple,seconds" } as const;

/**
 * Reads a band from the rows of a table, already split into fields. The first row is `edge,amps,seconds` or
 * `edge,multiple,seconds`; each other row is one point, its edge `minimum` or `maximum`, in rising order of current on each edge.
 * Empty rows are passed over.
 *
 * @param rows fields of each line, the header first
 * @param firstLine number of the first row in its file
 */
export function parseBandTable(rows: readonly (readonly string[])[], firstLine = 1): ParsedBandTable {
  const header = (rows[0] ?? []).map((field) => field.trim().toLowerCase()).join();
  const unit = header === headers.amps ? "amps" : header === headers.multiple ? "multiple" : null;
  if (unit === null) {
    return {
      ok: false,
      problems: [
        `line ${firstLine}: expected the header ${headers.amps} or ${headers.multiple} but found "${header}"`,
      ],
    };
  }
  const edges: Record<"minimum" | "maximum", EdgePoint[]> = { minimum: [], maximum: [] };
  const lines: Record<"minimum" | "maximum", number[]> = { minimum: [], maximum: [] };
  const problems: string[] = [];
  for (const [index, row] of rows.slice(1).entries()) {
    const line = firstLine + 1 + index;
    const fields = row.map((field) => field.trim());
    if (fields.every((field) => field === "")) continue;
    const [edge, current = "", seconds = ""] = fields;
    if (fields.length !== 3) {
      problems.push(`line ${line}: expected 3 fields but found ${fields.length}`);
    } else if (edge !== "minimum" && edge !== "maximum") {
      problems.push(`line ${line}: expected edge ${namedList(Object.keys(edges))} but found "${edge}"`);
    } else {
      const wrong = Object.entries({ [unit]: current, seconds }).filter(([, text]) => !isNumber(text));
      for (const [name, text] of wrong)
        problems.push(`line ${line}: ${name} must be a number but is "${text}"`);
      if (wrong.length > 0) continue;
      edges[edge].push([Number(current), Number(seconds)]);
      lines[edge].push(line);
    }
  }
  if (problems.length > 0) return { ok: false, problems };
  const parsed = { current: unit, ...edges } as const;
  const unsound = checkBand(parsed, (edge, at) => `line ${lines[edge][at]}`);
  return unsound.length > 0 ? { ok: false, problems: unsound } : { ok: true, edges: parsed };
}

/** `Number` alone would read an empty field as 0 and accept hexadecimal. */
const isNumber = (text: string) => /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text);
