import Database from "better-sqlite3";
import { entryOf, ledgerRows } from "./ledger-rows.ts";
import { projectionSchema, projectionTables, recreateProjections } from "./projection-tables.ts";
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

/**
 * Rebuilds the projections in memory and compares them with those in `database`, which is only read.
 *
 * @throws StoreError `refused` naming an entry that contradicts those before it
 */
export function compareProjections(database: Database.Database): Comparison {
  const rebuilt = new Database(":memory:");
  try {
    rebuilt.exec(projectionSchema);
    replay(database, rebuilt);
    for (const [table, key] of Object.entries(projectionTables)) {
      const query = `SELECT * FROM ${table} ORDER BY ${key}`;
      const found = database.prepare<[], object>(query).all();
      const difference = firstDifference(table, rebuilt.prepare<[], object>(query).all(), found);
      if (difference !== null) return { same: false, difference };
    }
    return { same: true };
  } finally {
    rebuilt.close();
  }
}

function replay(from: Database.Database, into: Database.Database): void {
  const project = projector(into);
  for (const row of ledgerRows(from)) project(entryOf(row));
}

function firstDifference(
  table: string,
  expected: readonly object[],
  found: readonly object[],
): string | null {
  for (let i = 0; i < Math.max(expected.length, found.length); i += 1) {
    const wanted = JSON.stringify(expected[i] ?? null);
    const stored = JSON.stringify(found[i] ?? null);
    if (wanted !== stored)
      return `row ${i + 1} of the projection ${table} is ${stored}; the ledger says ${wanted}`;
  }
  return null;
}
