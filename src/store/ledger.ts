import type Database from "better-sqlite3";
import type { EntryBodies, EntryKind, LedgerEntry } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { bytesOfHex } from "../core/evidence/hex-bytes.ts";
import { entryHash, genesisHash } from "../core/evidence/ledger-chain.ts";
import { stationId } from "../core/evidence/station-id.ts";
import { blockFacts, openingSequence, storedBlocks } from "./block-table.ts";
import { entryOf, type LedgerRow, ledgerColumns, ledgerRows } from "./ledger-rows.ts";
import { projector } from "./projector.ts";
import { signInProblem } from "./sign-in-problem.ts";
import type { StationKey } from "./station-key.ts";
import { StoreError } from "./store-error.ts";

/** An entry yet to be made: its kind and the body that belongs to it. */
export type NewEntry = { [K in EntryKind]: { kind: K; body: EntryBodies[K] } }[EntryKind];

/** Who makes an entry, and when: UTC in ISO 8601 with milliseconds, by default now. */
export interface EntryOrigin {
  actor: string;
  at?: string;
  /** Sequence of the entry under which the actor signed in; left out where the name is only typed. */
  signIn?: number;
}

/** The append-only, hash-chained, signed list of everything that happened. */
export interface Ledger {
  /**
   * Appends an entry, together with what follows from it in the projections: both or neither. On return it has reached the
   * disk.
   *
   * @throws StoreError `refused` where the entry contradicts the record; `read-only`
   * @throws TypeError or RangeError for a body that JSON cannot hold
   */
  append<K extends EntryKind>(kind: K, body: EntryBodies[K], origin: EntryOrigin): LedgerEntry<K>;
  /** Appends several: all or none. */
  appendAll(entries: readonly NewEntry[], origin: EntryOrigin): LedgerEntry[];
  /** Entries after sequence `since`, in order, of one kind or of all. */
  entries<K extends EntryKind = EntryKind>(filter?: { since?: number; kind?: K }): Generator<LedgerEntry<K>>;
  /** The entry with this sequence number, or null. */
  entry(sequence: number): LedgerEntry | null;
  /** Sequence and hash of the last entry; 0 and 64 zeros while there is none. */
  head(): { sequence: number; hash: string };
}

/**
 * The ledger in an open database.
 *
 * @param key signs what is appended; null refuses to append
 */
export function createLedger(database: Database.Database, key: StationKey | null, now: () => Date): Ledger {
  const headRow = database.prepare<[], { sequence: number; hash: string }>(
    "SELECT sequence, hash FROM ledger ORDER BY sequence DESC LIMIT 1",
  );
  const row = database.prepare<[number], LedgerRow>(`SELECT ${ledgerColumns} FROM ledger WHERE sequence = ?`);
  const insert = database.prepare<[LedgerRow]>(
    `INSERT INTO ledger (${ledgerColumns})
     VALUES (:sequence, :station, :at, :actor, :kind, :body, :previous, :hash, :signature, :sign_in)`,
  );
  const head = () => headRow.get() ?? { sequence: 0, hash: genesisHash };
  const project = key === null ? null : projector(database);
  const entryAt = (sequence: number): LedgerEntry | null => {
    const found = row.get(sequence);
    return found === undefined ? null : entryOf(found);
  };

  const appendOne = (
    { kind, body }: NewEntry,
    origin: EntryOrigin,
    station: string,
    signer: StationKey,
  ): LedgerEntry => {
    const { sequence, hash: previous } = head();
    const text = canonicalJson(body);
    const content = {
      sequence: sequence + 1,
      station,
      at: checkedTime(origin.at ?? now().toISOString()),
      actor: checkedActor(origin.actor),
      kind,
      previous,
    };
    const { signIn } = origin;
    if (signIn !== undefined) {
      const found = signInProblem(entryAt(signIn), { ...content, signIn });
      if (found !== null) throw new StoreError("refused", found);
    }
    const hash = entryHash({ ...content, body, ...(signIn === undefined ? {} : { signIn }) });
    const signature = signer.sign(bytesOfHex(hash, 32) ?? new Uint8Array());
    const newRow: LedgerRow = { ...content, body: text, hash, signature, sign_in: signIn ?? null };
    const entry = entryOf(newRow);
    if (entry.sequence === 1) refuseFalseOpening(entry, station, signer.publicKey);
    if (kind === "shot-closed") refuseFalseFacts(database, body);
    project?.(entry);
    insert.run(newRow);
    return entry;
  };

  const appendAll = database.transaction(
    (entries: readonly NewEntry[], origin: EntryOrigin): LedgerEntry[] => {
      if (key === null) throw new StoreError("read-only", "the store was opened for reading only");
      const station = stationId(key.publicKey);
      return entries.map((entry) => appendOne(entry, origin, station, key));
    },
  );

  return {
    append: <K extends EntryKind>(kind: K, body: EntryBodies[K], origin: EntryOrigin) =>
      appendAll.immediate([{ kind, body } as NewEntry], origin)[0] as LedgerEntry<K>,
    appendAll: (entries, origin) => appendAll.immediate(entries, origin),
    *entries<K extends EntryKind = EntryKind>(filter: { since?: number; kind?: K } = {}) {
      for (const one of ledgerRows(database, filter.since, filter.kind)) yield entryOf<K>(one);
    },
    entry: entryAt,
    head,
  };
}

function checkedTime(at: string): string {
  const date = new Date(at);
  if (Number.isNaN(date.getTime()) || date.toISOString() !== at)
    throw new StoreError(
      "refused",
      `the time of an entry is UTC such as 2025-01-31T08:00:00.000Z, found ${at}`,
    );
  return at;
}

function checkedActor(actor: string): string {
  if (typeof actor !== "string" || actor.trim() === "")
    throw new StoreError("refused", "an entry names its actor, found none");
  return actor;
}

function refuseFalseOpening(entry: LedgerEntry, station: string, publicKey: string): void {
  if (entry.kind !== "station-opened")
    throw new StoreError(
      "refused",
      `the ledger is empty: its first entry is station-opened, not ${entry.kind}`,
    );
  const body = entry.body as EntryBodies["station-opened"];
  if (body.station !== station || body.publicKey !== publicKey)
    throw new StoreError(
      "refused",
      `station-opened names station ${body.station} with key ${body.publicKey}; the key here is ${publicKey} of station ${station}`,
    );
}

/** A closing entry that does not match the stored blocks would stand in the ledger for ever. */
function refuseFalseFacts(database: Database.Database, body: EntryBodies["shot-closed"]): void {
  const facts = blockFacts(body.shot, storedBlocks(database, openingSequence(database, body.shot)));
  for (const name of ["samples", "blocks", "samplesHash"] as const)
    if (facts[name] !== body[name])
      throw new StoreError(
        "refused",
        `closing shot ${body.shot} with ${name} ${body[name]}; the stored blocks have ${facts[name]}`,
      );
}
