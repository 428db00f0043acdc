import type Database from "better-sqlite3";
import { StoreError } from "../store-error.ts";
import { sql as ledger } from "./001-ledger.ts";
import { sql as sampleBlocks } from "./002-sample-blocks.ts";
import { sql as signIn } from "./003-sign-in.ts";

/** Migrations in order; migration n takes a database from version n - 1 to n. Only ever appended to. */
export const migrations: readonly { name: string; sql: string }[] = [
  { name: "001-ledger", sql: ledger },
  { name: "002-sample-blocks", sql: sampleBlocks },
  { name: "003-sign-in", sql: signIn },
];

/** Version of the database that this program reads and writes. */
export const newestVersion = migrations.length;

/** Version of `database`: 0 where nothing was made yet. */
export function versionOf(database: Database.Database): number {
  return database.pragma("user_version", { simple: true }) as number;
}

/**
 * Brings a database up to `newestVersion`, each step in a transaction of its own that also sets the version: a crash
 * between two steps repeats none.
 *
 * @throws StoreError `version` for a database that a newer program made
 */
export function migrate(database: Database.Database, steps = migrations): void {
  const found = versionOf(database);
  refuseNewer(found, steps.length);
  for (const [index, step] of steps.entries()) {
    if (index < found) continue;
    database
      .transaction(() => {
        database.exec(step.sql);
        database.pragma(`user_version = ${index + 1}`);
      })
      .immediate();
  }
}

/** @throws StoreError `version` where `found` lies above `accepted` */
export function refuseNewer(found: number, accepted: number = newestVersion): void {
  if (found > accepted)
    throw new StoreError(
      "version",
      `the database has version ${found}; this program knows versions up to ${accepted}: use the newer program that made it`,
    );
}
