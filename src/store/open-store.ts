import { existsSync, mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import type Database from "better-sqlite3";
import type { LedgerEntry } from "../contract/ledger-entries.ts";
import { bytesOfHex } from "../core/evidence/hex-bytes.ts";
import { entryHash } from "../core/evidence/ledger-chain.ts";
import { stationId } from "../core/evidence/station-id.ts";
import { databaseFileName, openForReading, openForWriting } from "./_open-database.ts";
import { type BlockTable, blockTable } from "./block-table.ts";
import { type FailureCounts, failureCounts } from "./failure-counts.ts";
import { createLedger, type EntryOrigin, type Ledger } from "./ledger.ts";
import { entryOf, type LedgerRow, ledgerColumns } from "./ledger-rows.ts";
import { type Passwords, passwords } from "./passwords.ts";
import { type Photographs, photographs } from "./photographs.ts";
import { demandCurrentProjections, projectionsAreCurrent } from "./projection-tables.ts";
import { type Comparison, compareProjections, rebuildProjections } from "./projections.ts";
import { type Records, records } from "./records.ts";
import {
  createStationKey,
  hasStationKey,
  keyFileName,
  readStationKey,
  type StationKey,
  verifyFast,
} from "./station-key.ts";
import { StoreError } from "./store-error.ts";
import { lockForWriting } from "./writer-lock.ts";

/** Settings of {@link openStore}: reading only, and the clock that dates entries, by default the machine's. */
export interface StoreOptions {
  readOnly?: boolean;
  now?: () => Date;
}

/** Everything that a data directory keeps. */
export interface Store {
  readonly dataDir: string;
  readonly readOnly: boolean;
  /** Four characters derived from the key: the beginning of every identifier made here. */
  readonly station: string;
  /** The station's Ed25519 public key, 64 hex digits. */
  readonly publicKey: string;
  readonly ledger: Ledger;
  readonly blocks: BlockTable;
  readonly records: Records;
  readonly failureCounts: FailureCounts;
  readonly photographs: Photographs;
  readonly passwords: Passwords;
  /** Appends the first entry of a new ledger. */
  openStation(lab: { lab: string; demo: boolean }, origin: EntryOrigin): LedgerEntry<"station-opened">;
  /** Drops what is derived from the ledger and derives it again. */
  rebuildProjections(): void;
  /** Whether what is derived from the ledger still is what the ledger says. */
  compareProjections(): Comparison;
  /** Releases the files. The store cannot be used afterwards. */
  close(): void;
}

/**
 * Opens the store in `dataDir`: the database `asfound.sqlite` and the station's secret key `station-key.pem`. For writing,
 * it is made where there is none and brought up to date where an older program made it; one process at a time may write,
 * any number may read meanwhile. A new ledger is empty: its first entry is made by `openStation`.
 *
 * @throws StoreError `busy` where another process writes; `missing` where there is nothing to read; `damaged` for files that
 * are cut off or not ours; `version` for a newer program's database; `key` for a key that is missing, open to others,
 * or not the one that signed the ledger
 */
export function openStore(dataDir: string, options: StoreOptions = {}): Store {
  const folder = resolve(dataDir);
  const now = options.now ?? (() => new Date());
  return options.readOnly === true ? reader(folder, now) : writer(folder, now);
}

function reader(folder: string, now: () => Date): Store {
  const database = openForReading(folder);
  return orRelease([() => database.close()], () => {
    demandCurrentProjections(database);
    const publicKey = keyInLedger(database);
    if (publicKey === null) throw new StoreError("missing", `the ledger in ${folder} is empty`);
    return storeOf(folder, database, publicKey, null, now, () => database.close());
  });
}

function writer(folder: string, now: () => Date): Store {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const unlock = lockForWriting(folder);
  return orRelease([unlock], () => {
    if (!existsSync(join(folder, databaseFileName)) && hasStationKey(folder))
      throw new StoreError(
        "missing",
        `${folder} holds ${keyFileName} but no ${databaseFileName}: restore the database from a backup, or choose an empty folder`,
      );
    const database = openForWriting(folder);
    return orRelease([() => database.close()], () => {
      const publicKey = keyInLedger(database);
      const key =
        publicKey === null && !hasStationKey(folder) ? createStationKey(folder) : readStationKey(folder);
      if (publicKey !== null) refuseForeignLedger(database, publicKey, key.publicKey);
      if (!projectionsAreCurrent(database)) rebuildProjections(database);
      return storeOf(folder, database, key.publicKey, key, now, () => {
        database.close();
        unlock();
      });
    });
  });
}

/** Does `work`; where it throws, gives back what was taken before it. */
function orRelease<T>(releases: readonly (() => void)[], work: () => T): T {
  try {
    return work();
  } catch (error) {
    for (const release of releases) release();
    throw error;
  }
}

function storeOf(
  dataDir: string,
  database: Database.Database,
  publicKey: string,
  key: StationKey | null,
  now: () => Date,
  close: () => void,
): Store {
  const ledger = createLedger(database, key, now);
  const station = stationId(publicKey);
  const readOnly = key === null;
  return {
    dataDir,
    readOnly,
    station,
    publicKey,
    ledger,
    blocks: blockTable(database, !readOnly),
    records: records(database),
    failureCounts: failureCounts(database),
    photographs: photographs(dataDir, readOnly),
    passwords: passwords(database, ledger),
    openStation: ({ lab, demo }, origin) =>
      ledger.append("station-opened", { station, publicKey, lab, demo }, origin),
    rebuildProjections: () => {
      if (readOnly) throw new StoreError("read-only", "the store was opened for reading only");
      rebuildProjections(database);
    },
    compareProjections: () => compareProjections(database),
    close,
  };
}

/** Public key that the first entry names, or null for an empty ledger. */
function keyInLedger(database: Database.Database): string | null {
  const row = database
    .prepare<[], LedgerRow>(`SELECT ${ledgerColumns} FROM ledger ORDER BY sequence LIMIT 1`)
    .get();
  if (row === undefined) return null;
  if (row.kind !== "station-opened")
    throw new StoreError(
      "damaged",
      `the first entry of the ledger is ${row.kind}; it must be station-opened`,
    );
  return entryOf<"station-opened">(row).body.publicKey;
}

/** New entries must not stand on a ledger of another station, nor on a newest entry that was altered. */
function refuseForeignLedger(database: Database.Database, ledgerKey: string, ownKey: string): void {
  if (ledgerKey !== ownKey)
    throw new StoreError(
      "key",
      `${keyFileName} holds the secret of ${ownKey}, but the ledger was signed by ${ledgerKey}: restore the key that belongs to it`,
    );
  const newest = database
    .prepare<[], LedgerRow>(`SELECT ${ledgerColumns} FROM ledger ORDER BY sequence DESC LIMIT 1`)
    .get();
  if (newest === undefined) return;
  const { hash, signature } = newest;
  const hashBytes = bytesOfHex(hash, 32);
  if (entryHash(entryOf(newest)) !== hash || hashBytes === null || !verifyFast(hashBytes, signature, ownKey))
    throw new StoreError("damaged", `the newest entry, ${newest.sequence}, was altered: verify the store`);
}
