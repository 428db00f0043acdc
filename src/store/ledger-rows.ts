import type Database from "better-sqlite3";
import type { EntryKind, LedgerEntry } from "../contract/ledger-entries.ts";

/** A row of the ledger's table: an entry whose body is still text. */
export interface LedgerRow {
  sequence: number;
  station: string;
  at: string;
  actor: string;
  kind: string;
  body: string;
  previous: string;
  hash: string;
  signature: string;
  sign_in: number | null;
}

export const ledgerColumns = "sequence, station, at, actor, kind, body, previous, hash, signature, sign_in";

const pageSize = 256;

/**
 * Rows after sequence `since`, in order, of one kind or of all. Read a page at a time: a statement left open while the caller
 * does other things with the database would block them.
 */
export function* ledgerRows(
  database: Database.Database,
  since = 0,
  kind: string | null = null,
): Generator<LedgerRow> {
  const page = database.prepare<(number | string)[], LedgerRow>(
    `SELECT ${ledgerColumns} FROM ledger WHERE ${kind === null ? "" : "kind = ? AND "}sequence > ? ORDER BY sequence LIMIT ${pageSize}`,
  );
  let last = since;
  for (;;) {
    const rows = kind === null ? page.all(last) : page.all(kind, last);
    yield* rows;
    const newest = rows.at(-1);
    if (newest === undefined || rows.length < pageSize) return;
    last = newest.sequence;
  }
}

/** The entry that a row holds. */
export function entryOf<K extends EntryKind = EntryKind>(row: LedgerRow): LedgerEntry<K> {
  const { sign_in: signIn, ...entry } = row;
  return {
    ...entry,
    kind: row.kind as K,
    body: JSON.parse(row.body) as LedgerEntry<K>["body"],
    // Left out, not null: entries made before anyone could sign in keep their hashes.
    ...(signIn === null ? {} : { signIn }),
  };
}
