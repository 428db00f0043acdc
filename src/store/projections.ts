import Database from "better-sqlite3";
import { migrate } from "./migrations/migrate.ts";
import { entryOf, ledgerRows } from "./ledger-rows.ts";
import { projectionTables, recreateProjections } from "./projection-tables.ts";
import { projector } from "./projector.ts";

/** Whether the projections are what the ledger says; if not, the first row that differs, in words. */
export type Comparison = { same: true } | { same: false; difference: string };

/**
 * Drops the projections and makes them anew from the ledger, in one transaction.
 *
 * @throws StoreError `refused` naming an entry that contradicts those before it
 */
export function rebuildProjections(database: Database.Database): void {
  database
    .transaction(() => {
      recreateProjections(database);
      replay(database, database);
    })
    .immediate();
}

/** Rebuilds the projections in memory and compares them with those in `database`, which is only read. */
export function compareProjections(database: Database.Database): Comparison {
  const rebuilt = new Database(":memory:");
  try {
    migrate(rebuilt);
    recreateProjections(rebuilt);
    replay(database, rebuilt);
    for (const [table, key] of Object.entries(projectionTables)) {
      const query = `SELECT * FROM ${table} ORDER BY ${key}`;
      const difference = firstDifference(table, rebuilt.prepare(query).all(), database.prepare(query).all());
      if (difference !== null) return { same: false, difference };
    }
    return { same: true };
  } finally {
    rebuilt.close();
  }
}

function replay(from: Database.Database, into: Database.Database): void {
  const project = projector(into);
  for (const row of ledgerRows(from)) {
    // The projector looks up in the ledger whether the station is a demo.
    if (from !== into && row.sequence === 1) copyFirstRow(into, row);
    project(entryOf(row));
  }
}
