import type Database from "better-sqlite3";
import { caseSchema, caseTables } from "./case-tables.ts";
import { StoreError } from "./store-error.ts";

/** Raise by one whenever the tables below, or how they are filled, change: stores are then rebuilt on their next opening. */
export const projectionsVersion = "3";

/** Names of the projections, and the column that orders each. */
export const projectionTables = {
  stations: "sequence",
  specimens: "sequence",
  shots: "sequence",
  ...caseTables,
} as const;

/**
 * Views of the ledger for listing and filtering. They hold nothing that the ledger does not, and are dropped and made anew at
 * will; so they are no part of the migrations.
 *
 * An amendment of what a specimen is shows in all of them, also in the shots that were made before it; the rating at which a shot
 * was made stays in `shots` as it was. An amendment of the state before a shot shows in `shots` and `shot_cases`.
 *
 * `sequence` is that of the entry that received the specimen or opened the shot. `operations` counts handle movements and
 * trips so far; `shots` counts shots opened. In `shots`, `state` and `operations` are those before the shot.
 */
export const projectionSchema = `
CREATE TABLE stations (
  station    TEXT PRIMARY KEY,
  sequence   INTEGER NOT NULL UNIQUE,
  public_key TEXT NOT NULL,
  lab        TEXT NOT NULL,
  demo       INTEGER NOT NULL,
  opened_at  TEXT NOT NULL
) STRICT;

CREATE TABLE specimens (
  specimen    TEXT PRIMARY KEY,
  sequence    INTEGER NOT NULL UNIQUE,
  label       TEXT NOT NULL UNIQUE,
  rated_amps  REAL NOT NULL,
  poles       INTEGER NOT NULL,
  volts       REAL NOT NULL,
  job         TEXT,
  demo        INTEGER NOT NULL,
  received_at TEXT NOT NULL,
  operations  INTEGER NOT NULL,
  exercised   INTEGER NOT NULL,
  shots       INTEGER NOT NULL,
  details     TEXT NOT NULL
) STRICT;

CREATE TABLE shots (
  shot            TEXT PRIMARY KEY,
  sequence        INTEGER NOT NULL UNIQUE,
  closed_sequence INTEGER UNIQUE,
  number          INTEGER NOT NULL,
  specimen        TEXT NOT NULL,
  label           TEXT NOT NULL,
  rated_amps      REAL NOT NULL,
  poles           INTEGER NOT NULL,
  volts           REAL NOT NULL,
  job             TEXT,
  demo            INTEGER NOT NULL,
  limit_set       TEXT NOT NULL,
  limit_row       TEXT NOT NULL,
  multiple        REAL NOT NULL,
  loading         TEXT NOT NULL,
  target_amps     REAL NOT NULL,
  state           TEXT NOT NULL,
  operations      INTEGER NOT NULL,
  opened_at       TEXT NOT NULL,
  closed_at       TEXT,
  outcome         TEXT,
  seconds         REAL,
  held_seconds    REAL,
  samples         INTEGER,
  result          TEXT,
  finding         TEXT,
  reading         TEXT,
  verdict         TEXT
) STRICT;

CREATE INDEX specimens_by_demo ON specimens (demo);
CREATE INDEX shots_of_specimen ON shots (specimen, sequence);
${caseSchema}`;

/** Drops the projections, if any, makes them empty, and notes their version. To be called in a transaction. */
export function recreateProjections(database: Database.Database): void {
  for (const table of Object.keys(projectionTables)) database.exec(`DROP TABLE IF EXISTS ${table}`);
  database.exec(projectionSchema);
  database
    .prepare(
      "INSERT INTO store_facts VALUES ('projections', ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
    )
    .run(projectionsVersion);
}

/** Whether the projections are of this program's version. */
export function projectionsAreCurrent(database: Database.Database): boolean {
  const found = database.prepare("SELECT value FROM store_facts WHERE name = 'projections'").pluck().get();
  return found === projectionsVersion;
}

/** @throws StoreError `version` where the projections were made by another version of the program */
export function demandCurrentProjections(database: Database.Database): void {
  if (!projectionsAreCurrent(database))
    throw new StoreError(
      "version",
      "the projections were made by another version of the program: open the store once for writing to rebuild them",
    );
}
