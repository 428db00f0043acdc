/** What a cell of an exported table may hold. */
export type Cell = string | number | boolean | null;

/** Characters with which spreadsheets begin a formula, also in their full-width forms, and the blanks that some of them skip. */
const startsFormula = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;

/** Whether a spreadsheet may take this text for a formula. */
export function isFormula(text: string): boolean {
  return startsFormula.test(text);
}

/**
 * Text of one cell. A text that a spreadsheet would run gets an apostrophe before it, which spreadsheets show as plain text; one
 * apostrophe before a formula, or before further apostrophes and a formula, is taken away to read it back;
 * numbers stand as they are, negative ones too, because they are written by this program and by nobody else. Null is empty.
 *
 * @throws RangeError for numbers that are not finite
 * @example
 * ```ts
 * safeCell("=1+1"); // "'=1+1"
 * safeCell(-5); // "-5"
 * ```
 */
export function safeCell(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") {
    if (!Number.isFinite(cell)) throw new RangeError(`a cell holds finite numbers only, found ${cell}`);
    return JSON.stringify(cell);
  }
  if (typeof cell === "boolean") return String(cell);
  // Also where apostrophes stand there already: else the one that was added could not be told from one that was written.
  return isFormula(cell.replace(/^'+/, "")) ? `'${cell}` : cell;
}
