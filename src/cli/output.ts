import { InputError } from "../lab/input-error.ts";

/** Prints one result: a JSON document with `--json`, else the human words. */
export function printResult(json: boolean, document: unknown, human: () => string): void {
  process.stdout.write(`${json ? JSON.stringify(document, null, 2) : human()}\n`);
}

/** Writes a note to stderr. */
export function note(text: string): void {
  process.stderr.write(`${text}\n`);
}

/** Rewrites one progress line on stderr; on anything but a terminal it stays silent, so that logs hold no half lines. */
export function progress(text: string): void {
  if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
}

/** Ends the progress line. */
export function endProgress(): void {
  if (process.stderr.isTTY) process.stderr.write("\r\u001b[K");
}

/** A table with aligned columns; the first row is its head. Columns whose every cell is a number are set to the right. */
export function textTable(rows: readonly (readonly string[])[]): string {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, c) =>
    Math.max(...rows.map((row) => (row[c] ?? "").length)),
  );
  const numeric = widths.map((_, c) => rows.slice(1).every((row) => /^[-–]?[\d.,]*$/.test(row[c] ?? "")));
  return rows
    .map((row) =>
      row
        .map((cell, c) => (numeric[c] === true ? cell.padStart(widths[c] ?? 0) : cell.padEnd(widths[c] ?? 0)))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

/**
 * Runs one command's work and turns what it throws into words and an exit code: 2 for bad input or a rig that refuses.
 * With `--json` the error is the one JSON document on stdout, `{ error, fields? }`.
 */
export async function runCommand(json: boolean, work: () => Promise<void> | void): Promise<void> {
  try {
    await work();
  } catch (error) {
    endProgress();
    const message = error instanceof Error ? error.message : String(error);
    const fields = error instanceof InputError && error.fields.length > 0 ? { fields: error.fields } : {};
    if (json) process.stdout.write(`${JSON.stringify({ error: message, ...fields }, null, 2)}\n`);
    else {
      note(`asfound: ${message}`);
      if (error instanceof InputError)
        for (const { field, problem } of error.fields) note(`  ${field}: ${problem}`);
    }
    process.exitCode = 2;
  }
}
