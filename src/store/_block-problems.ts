import type Database from "better-sqlite3";
import type { LedgerEntry } from "../contract/ledger-entries.ts";
import { blockFacts, storedBlocks } from "./block-table.ts";
import { entryOf, ledgerRows } from "./ledger-rows.ts";

/**
 * What is wrong with the sample blocks, by shot in the order of opening: a block that is missing or cannot be read, blocks
 * that are not what the closing entry says, blocks of no shot. The blocks of a shot still open have nothing to be held
 * against but their form.
 */
export function blockProblems(database: Database.Database): string[] {
  const problems: string[] = [];
  const opened = new Map<number, string>();
  const closed = new Map<string, LedgerEntry<"shot-closed">>();
  for (const row of ledgerRows(database)) {
    if (row.kind === "shot-opened") opened.set(row.sequence, entryOf<"shot-opened">(row).body.shot);
    if (row.kind === "shot-closed") {
      const entry = entryOf<"shot-closed">(row);
      closed.set(entry.body.shot, entry);
    }
  }
  const numbers = database.prepare<[number], { number: number }>(
    "SELECT number FROM sample_blocks WHERE shot = ? ORDER BY number",
  );
  for (const [sequence, shot] of opened) {
    const misplaced = numbers.all(sequence).findIndex(({ number }, index) => number !== index + 1);
    if (misplaced !== -1) problems.push(`block ${misplaced + 1} of shot ${shot} is missing`);
    try {
      const facts = blockFacts(shot, storedBlocks(database, sequence));
      const closing = closed.get(shot);
      if (closing === undefined) continue;
      for (const name of ["blocks", "samples", "samplesHash"] as const)
        if (facts[name] !== closing.body[name]) {
          problems.push(
            `the blocks of shot ${shot} were altered: ${name} is ${facts[name]}, entry ${closing.sequence} says ${closing.body[name]}`,
          );
          break;
        }
    } catch (error) {
      problems.push((error as Error).message);
    }
  }
  for (const shot of database.prepare<[], number>("SELECT DISTINCT shot FROM sample_blocks").pluck().all())
    if (!opened.has(shot)) problems.push(`there are sample blocks for entry ${shot}, which opens no shot`);
  return problems;
}
