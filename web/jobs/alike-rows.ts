import { countUp } from "./count-up.ts";

/** What differs among specimens that are alike. */
export const rowColumns = [
  { name: "label", label: "Label" },
  { name: "circuit", label: "Circuit" },
  { name: "handleAsReceived", label: "Handle" },
  { name: "condition", label: "Condition" },
] as const;
export type RowColumn = (typeof rowColumns)[number]["name"];

/** What was typed or scanned into a row; a field that is left out follows from the row above. */
export type TypedRow = Readonly<Partial<Record<RowColumn, string>>>;
/** A row as it will be received. */
export type WholeRow = Readonly<Record<RowColumn, string>>;

/** How a field follows from the row above: labels and circuits count up, the rest is the same. */
const following: Readonly<Record<RowColumn, (above: string) => string>> = {
  label: countUp,
  circuit: (above) => (/\d/.test(above) ? countUp(above) : ""),
  handleAsReceived: (above) => above,
  condition: (above) => above,
};

/** Every row whole: what was typed, else what follows from the row above. */
export function wholeRows(typed: readonly TypedRow[]): WholeRow[] {
  const rows: WholeRow[] = [];
  for (const row of typed) {
    const above = rows.at(-1);
    const field = (name: RowColumn) => row[name] ?? (above === undefined ? "" : following[name](above[name]));
    rows.push({
      label: field("label"),
      circuit: field("circuit"),
      handleAsReceived: field("handleAsReceived"),
      condition: field("condition"),
    });
  }
  return rows;
}

/** Fields by name as the text of a CSV table (RFC 4180), a line each; columns that are empty in every line are left out. */
export function csvOf(lines: readonly Readonly<Record<string, string>>[]): string {
  const names = [...new Set(lines.flatMap((line) => Object.keys(line)))].filter((name) =>
    lines.some((line) => (line[name] ?? "") !== ""),
  );
  const cell = (text: string) => `"${text.replaceAll(/[\r\n]+/g, " ").replaceAll('"', '""')}"`;
  return [names, ...lines.map((line) => names.map((name) => line[name] ?? ""))]
    .map((cells) => cells.map(cell).join(","))
    .join("\n");
}
