import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from "node:crypto";
import { promisify } from "node:util";
import type Database from "better-sqlite3";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import type { EntryOrigin, Ledger } from "./ledger.ts";
import { entryOf, ledgerRows } from "./ledger-rows.ts";

/**
 * Passwords, beside the ledger: only what a password is checked against, never the password. The ledger has the SHA-256 of each, so
 * that one exchanged by hand is noticed.
 */
export interface Passwords {
  /** What a password of `person` is checked against, or null where none was set. */
  verifier(person: string): string | null;
  /** Keeps a verifier in place of the one before, and its digest in the ledger: both or neither. */
  set(person: string, verifier: string, origin: EntryOrigin): void;
}

/** The passwords in an open database. */
export function passwords(database: Database.Database, ledger: Pick<Ledger, "append">): Passwords {
  const find = database.prepare<[string], string>("SELECT verifier FROM passwords WHERE person = ?").pluck();
  const insert = database.prepare("INSERT OR REPLACE INTO passwords VALUES (?, ?)");
  return {
    verifier: (person) => find.get(person) ?? null,
    set: database.transaction((person: string, verifier: string, origin: EntryOrigin) => {
      ledger.append("password-set", { person, verifier: verifierDigest(verifier) }, origin);
      insert.run(person, verifier);
    }).immediate,
  };
}

const derive: (password: string, salt: Buffer, length: number, options: ScryptOptions) => Promise<Buffer> =
  promisify(scrypt);
/** Cost of scrypt (RFC 7914): 2^15 rounds of 8 blocks take 32 MiB and about a tenth of a second. */
const cost = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 2 ** 20 };

/**
 * A new verifier of a password, `scrypt$N$r$p$salt$hash`, salt and hash in base64. Unicode is brought to one form (NFKC) first, so that
 * the same letters typed on another keyboard are the same password.
 */
export async function makeVerifier(password: string): Promise<string> {
  const salt = randomBytes(16);
  const hash = await derive(password.normalize("NFKC"), salt, 32, cost);
  return ["scrypt", cost.N, cost.r, cost.p, salt.toString("base64"), hash.toString("base64")].join("$");
}

/** Whether `password` is the one behind `verifier`. Null takes as long and is never matched: it does not tell who is known here. */
export async function matchesVerifier(password: string, verifier: string | null): Promise<boolean> {
  const [, N, r, p, salt, hash] = (verifier ?? (await nobodys())).split("$");
  const wanted = Buffer.from(hash ?? "", "base64");
  if (wanted.length !== 32) return false;
  const found = await derive(password.normalize("NFKC"), Buffer.from(salt ?? "", "base64"), 32, {
    ...{ N: Number(N), r: Number(r), p: Number(p), maxmem: cost.maxmem },
  });
  return timingSafeEqual(found, wanted) && verifier !== null;
}

let nobody: Promise<string> | null = null;
const nobodys = (): Promise<string> => {
  nobody ??= makeVerifier(randomBytes(16).toString("hex"));
  return nobody;
};

/** What of a verifier goes into the ledger. */
export const verifierDigest = (verifier: string): string => sha256Hex(verifier);

/** Passwords that are not those that the ledger knows of: exchanged, added or taken away by hand. */
export function passwordProblems(database: Database.Database): string[] {
  const known = new Map<string, string>();
  for (const row of ledgerRows(database, 0, "password-set")) {
    const { person, verifier } = entryOf<"password-set">(row).body;
    known.set(person, verifier);
  }
  const kept = database
    .prepare<[], { person: string; verifier: string }>("SELECT person, verifier FROM passwords")
    .all();
  const found = new Map(kept.map(({ person, verifier }) => [person, verifierDigest(verifier)]));
  const persons = [...new Set([...known.keys(), ...found.keys()])];
  return persons.flatMap((person) => {
    const [wanted, is] = [known.get(person), found.get(person)];
    if (wanted === is) return [];
    if (is === undefined) return [`the password of ${person} is missing`];
    return [
      wanted === undefined
        ? `a password of ${person} was put there that the ledger does not know of`
        : `the password of ${person} is not the one that was set: its digest is ${is}, the ledger has ${wanted}`,
    ];
  });
}
