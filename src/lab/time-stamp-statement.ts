import { createHash } from "node:crypto";
import type { LedgerEntry } from "../contract/ledger-entries.ts";
import { headStatement } from "../core/evidence/head-statement.ts";
import { bytesOfHex } from "../core/evidence/hex-bytes.ts";
import { growingTree } from "../core/evidence/merkle-tree.ts";
import type { Lab } from "./lab.ts";

/** The statement of a ledger as it stood at one entry, with its SHA-256: what is stamped. */
export interface Statement {
  entries: number;
  head: string;
  /** When the newest of these entries was made. */
  at: string;
  root: string;
  text: string;
  imprint: string;
}

/** SHA-256 of a text in UTF-8, 64 hex digits. */
const sha256 = (text: string): string => createHash("sha256").update(text).digest("hex");

/** The statements of a ledger at each of its entries that is wanted, in order. */
export function* statements(
  entries: Iterable<LedgerEntry>,
  wanted: (sequence: number) => boolean,
): Generator<Statement> {
  const tree = growingTree();
  for (const { sequence, station, at, hash, signature } of entries) {
    tree.add(bytesOfHex(hash, 32) ?? new Uint8Array());
    if (!wanted(sequence)) continue;
    const root = tree.root();
    const text = headStatement({ station, entries: sequence, head: hash, root, signature });
    yield { entries: sequence, head: hash, at, root, text, imprint: sha256(text) };
  }
}

/** The statement of a ledger at one entry, or null where it has no such entry. */
export function statementAt(lab: Pick<Lab, "store">, sequence: number): Statement | null {
  const [found] = statements(lab.store.ledger.entries(), (one) => one === sequence);
  return found ?? null;
}
