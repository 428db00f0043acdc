import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type Database from "better-sqlite3";
import type { LedgerEntry } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { genesisHash, verifyChain } from "../core/evidence/ledger-chain.ts";
import { parseStrictJson } from "../core/evidence/parse-strict-json.ts";
import { stationId } from "../core/evidence/station-id.ts";
import { blockProblems } from "./_block-problems.ts";
import { openForReading } from "./_open-database.ts";
import { schemaProblems } from "./_schema-problems.ts";
import { entryOf, ledgerRows } from "./ledger-rows.ts";
import { passwordProblems } from "./passwords.ts";
import { photographProblems } from "./photographs.ts";
import { demandCurrentProjections } from "./projection-tables.ts";
import { compareProjections } from "./projections.ts";
import { signInProblem } from "./sign-in-problem.ts";
import { keyFileName, publicKeyInFile, verifyFast } from "./station-key.ts";

/** What a check of a whole store found. `entries` and `head` are those of the ledger as stored; 64 zeros for none. */
export interface StoreCheck {
  entries: number;
  head: string;
  ok: boolean;
  /** Whole sentences, the first thing that differs first. */
  problems: string[];
}

/**
 * Checks everything in a data directory, without changing it: the chain of the ledger and every signature, the key, the
 * blocks of every closed shot, the photographs, the passwords, the projections, and the database itself. Never throws for what it finds on the disk.
 *
 * @param options `knownHead`: a hash printed elsewhere that the ledger must still contain. Without it, entries cut off at
 * the end by someone who also rebuilt the projections cannot be noticed.
 */
export function verifyStore(dataDir: string, options: { knownHead?: string } = {}): StoreCheck {
  const folder = resolve(dataDir);
  const problems: string[] = [];
  const guard = (what: string, check: () => readonly string[]): void => {
    try {
      problems.push(...check());
    } catch (error) {
      problems.push(`${what} cannot be checked: ${(error as Error).message}`);
    }
  };
  let last = { entries: 0, head: genesisHash };
  guard("the database", () => {
    const database = openForReading(folder);
    try {
      // One transaction: a writer may go on meanwhile without disturbing what is compared.
      database.transaction(() => {
        guard("the ledger", () => {
          last = lastOf(database);
          return chainProblems(database, options.knownHead);
        });
        guard("the station's key", () => keyProblems(folder, database));
        guard("the sample blocks", () => blockProblems(database));
        guard("the photographs", () => photographProblems(folder, database));
        guard("the passwords", () => passwordProblems(database));
        guard("the projections", () => projectionProblems(database));
        guard("the tables", () => schemaProblems(database));
        guard("the database file", () => integrityProblems(database));
      })();
    } finally {
      database.close();
    }
    return [];
  });
  return { ...last, ok: problems.length === 0, problems };
}

function lastOf(database: Database.Database): { entries: number; head: string } {
  const entries = database.prepare<[], number>("SELECT count(*) FROM ledger").pluck().get() ?? 0;
  const head = database
    .prepare<[], string>("SELECT hash FROM ledger ORDER BY sequence DESC LIMIT 1")
    .pluck()
    .get();
  return { entries, head: String(head ?? genesisHash) };
}

function chainProblems(database: Database.Database, knownHead: string | undefined): string[] {
  const [first] = ledgerRows(database);
  if (first === undefined)
    return knownHead === undefined ? [] : [`the ledger is empty; it must contain ${knownHead}`];
  if (first.kind !== "station-opened") return [`the first entry is ${first.kind}; it must be station-opened`];
  const { publicKey } = entryOf<"station-opened">(first).body;
  const result = verifyChain(strictEntries(database, stationId(publicKey)), publicKey, {
    verify: verifyFast,
    ...(knownHead === undefined ? {} : { head: knownHead }),
  });
  return result.ok ? [] : [result.problem];
}

/** Entries whose stored text has one reading only, and which name the station that signs them. */
function* strictEntries(database: Database.Database, station: string): Generator<LedgerEntry> {
  const signIns = new Map<number, LedgerEntry>();
  for (const row of ledgerRows(database)) {
    const body = parseStrictJson(row.body);
    if (!body.ok) throw new Error(`the body of entry ${row.sequence} is ${body.problem}`);
    if (canonicalJson(body.value) !== row.body)
      throw new Error(`the body of entry ${row.sequence} was altered: it is not in canonical form`);
    if (row.station !== station)
      throw new Error(`entry ${row.sequence} is of station ${row.station}; the key makes ${station}`);
    const entry = entryOf(row);
    const { signIn } = entry;
    const problem =
      signIn === undefined ? null : signInProblem(signIns.get(signIn) ?? null, { ...entry, signIn });
    if (problem !== null) throw new Error(problem);
    if (entry.kind === "signed-in") signIns.set(entry.sequence, entry);
    yield entry;
  }
}

/** Where the secret key lies beside the ledger, it must be the one that signed it; a copy given to others lacks it. */
function keyProblems(folder: string, database: Database.Database): string[] {
  if (!existsSync(join(folder, keyFileName))) return [];
  const inFile = publicKeyInFile(folder);
  const [first] = ledgerRows(database);
  const inLedger = first === undefined ? inFile : entryOf<"station-opened">(first).body.publicKey;
  return inFile === inLedger
    ? []
    : [`${keyFileName} holds the secret of ${inFile}, but the ledger was signed by ${inLedger}`];
}

function projectionProblems(database: Database.Database): string[] {
  demandCurrentProjections(database);
  const comparison = compareProjections(database);
  return comparison.same ? [] : [comparison.difference];
}

function integrityProblems(database: Database.Database): string[] {
  const lines = database.pragma("integrity_check(10)") as { integrity_check: string }[];
  return lines
    .map((line) => line.integrity_check)
    .filter((line) => line !== "ok")
    .map((line) => `SQLite finds the database damaged: ${line}`);
}
