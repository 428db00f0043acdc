import type { LedgerEntry } from "../contract/ledger-entries.ts";
import type { Lab } from "./lab.ts";

/** The ledger, or its end, as others get it: each hash can be recomputed from the entry, each signature checked with the key. */
export interface ExportedLedger {
  station: string;
  /** Ed25519 key of the station, 64 hex digits. */
  publicKey: string;
  /** Hash of the newest entry; 64 zeros where there is none. */
  head: string;
  entries: LedgerEntry[];
}

/**
 * The entries after sequence `since`, all or the first `limit` of them, as stored. The head is that of the whole ledger, even where nothing
 * is newer.
 */
export function exportLedger(lab: Pick<Lab, "store">, since = 0, limit?: number): ExportedLedger {
  const entries: LedgerEntry[] = [];
  for (const entry of lab.store.ledger.entries({ since })) {
    entries.push(entry);
    if (entries.length === limit) break;
  }
  return {
    station: lab.store.station,
    publicKey: lab.store.publicKey,
    // A bench may be writing: the head is that of the entries read, not of a later moment.
    head: (limit === undefined ? entries.at(-1)?.hash : undefined) ?? lab.store.ledger.head().hash,
    entries,
  };
}
