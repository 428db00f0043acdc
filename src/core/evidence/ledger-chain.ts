import { canonicalJson } from "./canonical-json.ts";
import { bytesOfHex } from "./hex-bytes.ts";
import { sha256Hex } from "./sha256-hex.ts";
import { type SignatureCheck, verifySignature } from "./signature.ts";

/** What the first entry names as its predecessor: 64 zeros. */
export const genesisHash = "0".repeat(64);

/** What a chain needs to know of an entry; its other fields are covered by the hash, whatever they are. */
export interface ChainEntry {
  /** 1 for the first entry, then rising by one. */
  sequence: number;
  /** Hash of the entry before, {@link genesisHash} for the first. */
  previous: string;
  /** SHA-256 of the entry's own content, see {@link entryHash}. */
  hash: string;
  /** Ed25519 signature over the 32 bytes of `hash`. */
  signature: string;
}

/** `head` is the hash of the last entry, {@link genesisHash} for an empty chain. A problem names the first entry that differs. */
export type ChainResult =
  | { ok: true; head: string; entries: number }
  | { ok: false; sequence: number; problem: string };

/**
 * Hash of an entry: SHA-256 over the RFC 8785 form of all of its fields but `hash` and `signature`. Anyone can recompute it:
 * drop these two fields, print the rest canonically, and hash the UTF-8 bytes.
 *
 * @throws TypeError or RangeError where the entry holds what JSON cannot say
 */
export function entryHash(entry: object): string {
  return sha256Hex(canonicalJson(Object.fromEntries(Object.entries(entry).filter(isHashed))));
}

const isHashed = ([name]: [string, unknown]): boolean => name !== "hash" && name !== "signature";

/**
 * Checks a ledger from its first entry on: numbers without a gap, each entry bound to the one before, each hash that of the
 * content, and, where a public key is given, each signature made by it. Entries missing at the end leave no trace in a
 * chain: give `head`, as printed elsewhere, to notice that.
 *
 * @param publicKey the station's Ed25519 key, 64 lower-case hex digits; without it signatures are not looked at
 * @param options `head`: hash that one of the entries must have; `verify`: another Ed25519 implementation
 */
export function verifyChain(
  entries: Iterable<ChainEntry>,
  publicKey?: string,
  options: { head?: string; verify?: SignatureCheck } = {},
): ChainResult {
  const verify = options.verify ?? verifySignature;
  let previous = genesisHash;
  let count = 0;
  let headSeen = options.head === undefined || options.head === genesisHash;
  for (const entry of entries) {
    const sequence = count + 1;
    const problem = problemOf(entry, sequence, previous, publicKey, verify);
    if (problem !== null) return { ok: false, sequence, problem };
    previous = entry.hash;
    count = sequence;
    if (entry.hash === options.head) headSeen = true;
  }
  if (!headSeen)
    return {
      ok: false,
      sequence: count + 1,
      problem: `no entry has the known head ${options.head}: entries after ${count} are missing, or all was rewritten`,
    };
  return { ok: true, head: previous, entries: count };
}

function problemOf(
  entry: ChainEntry,
  sequence: number,
  previous: string,
  publicKey: string | undefined,
  verify: SignatureCheck,
): string | null {
  if (entry.sequence !== sequence)
    return `entry ${sequence} is not in its place: found sequence ${String(entry.sequence)}`;
  if (entry.previous !== previous)
    return `entry ${sequence} follows ${String(entry.previous)}, but the entry before has the hash ${previous}`;
  let computed: string;
  try {
    computed = entryHash(entry);
  } catch (error) {
    return `entry ${sequence} cannot be hashed: ${(error as Error).message}`;
  }
  if (entry.hash !== computed)
    return `entry ${sequence} was altered: its content hashes to ${computed}, but it says ${String(entry.hash)}`;
  if (publicKey === undefined) return null;
  const hashBytes = bytesOfHex(computed, 32);
  if (hashBytes === null || !verify(hashBytes, entry.signature, publicKey))
    return `entry ${sequence} has a signature that the station's key ${publicKey} did not make`;
  return null;
}
