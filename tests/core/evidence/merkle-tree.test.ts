import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  inclusionProof,
  merkleLeafHash,
  merkleRoot,
  verifyInclusion,
} from "../../../src/core/evidence/merkle-tree.ts";

// Test vectors published with the reference implementation of Certificate Transparency (RFC 6962), Apache-2.0.
const items = [
  "",
  "00",
  "10",
  "2021",
  "3031",
  "40414243",
  "5051525354555657",
  "606162636465666768696a6b6c6d6e6f",
].map((hex) => Uint8Array.from(Buffer.from(hex, "hex")));
const roots = [
  "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
  "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
  "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
  "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
  "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
  "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
  "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
  "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
  "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
];

describe("Merkle tree", () => {
  it.each(roots.map((root, size) => [size, root] as const))(
    "has the published root over %i items",
    (size, root) => {
      expect(merkleRoot(items.slice(0, size))).toBe(root);
    },
  );

  it("has the published proofs", () => {
    expect(inclusionProof(items, 0)).toEqual([
      "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7",
      "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e",
      "6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4",
    ]);
    expect(inclusionProof(items, 5)).toEqual([
      "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b",
      "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
      roots[4],
    ]);
    expect(inclusionProof(items.slice(0, 3), 2)).toEqual([roots[2]]);
    expect(inclusionProof(items.slice(0, 1), 0)).toEqual([]);
    expect(merkleLeafHash(new Uint8Array())).toBe(roots[1]);
  });

  const lists = fc.array(fc.uint8Array({ maxLength: 5 }), { minLength: 1, maxLength: 40 });

  it("proves every item at its place, and at no other size", () => {
    fc.assert(
      fc.property(lists, fc.nat(), (list, place) => {
        const index = place % list.length;
        const item = list[index] ?? new Uint8Array();
        const proof = inclusionProof(list, index);
        const root = merkleRoot(list);
        expect(verifyInclusion(item, index, list.length, proof, root)).toBe(true);
        expect(proof.length).toBeLessThanOrEqual(Math.ceil(Math.log2(list.length)));
        expect(verifyInclusion(item, index, 2 * list.length + 1, proof, root)).toBe(false);
      }),
    );
  });

  it("does not prove another item, another place, a shortened, lengthened or changed proof, or another root", () => {
    // Items that all differ: otherwise two places may hold the same.
    const distinct = fc
      .integer({ min: 2, max: 40 })
      .map((size) => Array.from({ length: size }, (_, i) => Uint8Array.of(i)));
    fc.assert(
      fc.property(distinct, fc.nat(), fc.nat(), (list, place, other) => {
        const size = list.length;
        const index = place % size;
        const elsewhere = (index + 1 + (other % (size - 1))) % size;
        const item = list[index] ?? new Uint8Array();
        const proof = inclusionProof(list, index);
        const root = merkleRoot(list);
        const flipped = proof.map((hash, i) =>
          i === other % proof.length ? hash.replace(/^./, (c) => (c === "0" ? "1" : "0")) : hash,
        );
        expect(verifyInclusion(Uint8Array.of(200), index, size, proof, root)).toBe(false);
        expect(verifyInclusion(item, elsewhere, size, proof, root)).toBe(false);
        expect(verifyInclusion(item, index, size, proof.slice(1), root)).toBe(false);
        expect(verifyInclusion(item, index, size, [...proof, root], root)).toBe(false);
        expect(verifyInclusion(item, index, size, flipped, root)).toBe(false);
        expect(verifyInclusion(item, index, size, proof, merkleLeafHash(item))).toBe(false);
      }),
    );
  });

  it("takes malformed proofs for false", () => {
    expect(verifyInclusion(new Uint8Array(), 0, 2, ["zz"], roots[2] ?? "")).toBe(false);
    expect(verifyInclusion(new Uint8Array(), 1, 1, [], roots[1] ?? "")).toBe(false);
    expect(verifyInclusion(new Uint8Array(), -1, 1, [], roots[1] ?? "")).toBe(false);
    expect(verifyInclusion(new Uint8Array(), 0.5, 1, [], roots[1] ?? "")).toBe(false);
  });

  it("refuses to prove a place that is not in the list", () => {
    expect(() => inclusionProof(items, 8)).toThrow("index 8 is not in a list of 8");
    expect(() => inclusionProof([], 0)).toThrow(RangeError);
  });
});
