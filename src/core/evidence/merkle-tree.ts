import { sha256 } from "@noble/hashes/sha2.js";
import { concatBytes } from "@noble/hashes/utils.js";
import { bytesOfHex, hexOfBytes } from "./hex-bytes.ts";

/*
 * Merkle tree over a list of byte strings: with the root known, one item can be shown to be in the list, at its place,
 * without showing the others. Leaf = H(00 || d), node = H(01 || left || right); a list of n > 1 is split at the largest power
 * of two below n. All hashes go in and out as 64 lower-case hex digits.
 *
 * Source: RFC 6962 (2013), section 2.1; the same hashing in RFC 9162 (2021), section 2.1. Checked with the public test
 * vectors of Certificate Transparency, see tests/core/evidence/merkle-tree.test.ts.
 */

const leafPrefix = Uint8Array.of(0);
const nodePrefix = Uint8Array.of(1);

/** Hash of one item as a leaf. */
export function merkleLeafHash(item: Uint8Array): string {
  return hexOfBytes(leafHash(item));
}

/** Root over `items` in their order; SHA-256 of nothing for an empty list. */
export function merkleRoot(items: readonly Uint8Array[]): string {
  return hexOfBytes(rootOf(items.map(leafHash)));
}

/**
 * Hashes which, with the item at `index`, lead to the root over `items`: nearest the leaf first.
 *
 * Source: RFC 9162, section 2.1.3.1.
 *
 * @throws RangeError if `index` is not a place in the list
 */
export function inclusionProof(items: readonly Uint8Array[], index: number): string[] {
  if (!Number.isInteger(index) || index < 0 || index >= items.length)
    throw new RangeError(`index ${index} is not in a list of ${items.length}`);
  return pathTo(items.map(leafHash), index).map(hexOfBytes);
}

/**
 * Whether `proof` shows that `item` stands at `index` in the list of `size` items whose root is `root`. Malformed proofs are
 * false, not errors: they come from the world.
 *
 * Source: RFC 9162, section 2.1.3.2.
 */
export function verifyInclusion(
  item: Uint8Array,
  index: number,
  size: number,
  proof: readonly string[],
  root: string,
): boolean {
  if (!Number.isInteger(index) || !Number.isInteger(size) || index < 0 || index >= size) return false;
  let place = index;
  let last = size - 1;
  let hash = leafHash(item);
  for (const step of proof) {
    const sibling = bytesOfHex(step, 32);
    if (sibling === null || last === 0) return false;
    if (place % 2 === 1 || place === last) {
      hash = nodeHash(sibling, hash);
      while (place % 2 === 0 && place !== 0) {
        place = Math.floor(place / 2);
        last = Math.floor(last / 2);
      }
    } else {
      hash = nodeHash(hash, sibling);
    }
    place = Math.floor(place / 2);
    last = Math.floor(last / 2);
  }
  return last === 0 && hexOfBytes(hash) === root;
}

const leafHash = (item: Uint8Array): Uint8Array => sha256(concatBytes(leafPrefix, item));

const nodeHash = (left: Uint8Array, right: Uint8Array): Uint8Array =>
  sha256(concatBytes(nodePrefix, left, right));

function splitOf(size: number): number {
  let half = 1;
  while (half * 2 < size) half *= 2;
  return half;
}

function rootOf(leaves: readonly Uint8Array[]): Uint8Array {
  const [only] = leaves;
  if (only === undefined) return sha256(new Uint8Array());
  if (leaves.length === 1) return only;
  const split = splitOf(leaves.length);
  return nodeHash(rootOf(leaves.slice(0, split)), rootOf(leaves.slice(split)));
}

function pathTo(leaves: readonly Uint8Array[], index: number): Uint8Array[] {
  if (leaves.length === 1) return [];
  const split = splitOf(leaves.length);
  const left = leaves.slice(0, split);
  const right = leaves.slice(split);
  return index < split
    ? [...pathTo(left, index), rootOf(right)]
    : [...pathTo(right, index - split), rootOf(left)];
}

/** A tree that items are added to one by one, for its root after each of them. */
export interface GrowingTree {
  add(item: Uint8Array): void;
  /** Root over all items so far, as `merkleRoot` gives it. */
  root(): string;
}

/** A new growing tree: it keeps the root of each full subtree, as many as the number of items has binary ones. */
export function growingTree(): GrowingTree {
  const full: { hash: Uint8Array; size: number }[] = [];
  return {
    add: (item) => {
      let node = { hash: leafHash(item), size: 1 };
      for (let last = full.at(-1); last?.size === node.size; last = full.at(-1)) {
        node = { hash: nodeHash(last.hash, node.hash), size: node.size * 2 };
        full.pop();
      }
      full.push(node);
    },
    root: () => {
      const [last, ...before] = full.toReversed();
      if (last === undefined) return merkleRoot([]);
      return hexOfBytes(before.reduce((hash, one) => nodeHash(one.hash, hash), last.hash));
    },
  };
}
