import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bytesOfHex } from "../../../src/core/evidence/hex-bytes.ts";
import {
  type ChainEntry,
  entryHash,
  genesisHash,
  verifyChain,
} from "../../../src/core/evidence/ledger-chain.ts";
import { publicKeyOf, sign } from "../../../src/core/evidence/signature.ts";

// Secret of RFC 8032, section 7.1, test 1.
const secret = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";
const publicKey = publicKeyOf(secret);

interface Entry extends ChainEntry {
  at: string;
  actor: string;
  body: unknown;
}

/** A sound chain with one entry for each body. */
function chainOf(bodies: readonly unknown[], key = secret): Entry[] {
  let previous = genesisHash;
  return bodies.map((body, i) => {
    const content = { sequence: i + 1, at: `2025-01-31T08:00:0${i % 10}.000Z`, actor: "a", body, previous };
    const hash = entryHash(content);
    previous = hash;
    return { ...content, hash, signature: sign(bytesOfHex(hash, 32) ?? new Uint8Array(), key) };
  });
}
const five = chainOf([{ amps: 45.2 }, { note: "café €" }, { trip: 27.913 }, {}, { list: [1, 2] }]);
const four = five.length - 1;

describe("entryHash()", () => {
  // Computed beforehand with Python's json and hashlib: SHA-256 over the canonical form, genesis 64 zeros.
  it("chains as recomputed in another language", () => {
    const first = entryHash({ amps: 45.2, kind: "current", prev: genesisHash, seq: 1 });
    const second = entryHash({ kind: "trip", prev: first, seq: 2, t_s: 27.913 });
    const third = entryHash({ kind: "note", prev: second, seq: 3, text: "café €" });
    expect([first, second, third]).toEqual([
      "a3e95606f53515d5d63d68484eb9f262ec06714ecfac27f068ad762b6a2081a2",
      "f547caff2e231be23eabf5eea5794cb3c282f25dcd36e96a48ed08749e559ce8",
      "29b53afa31b527bafdd3f74552575b6f36b8fcd7f36620773ec24b12585138b5",
    ]);
  });

  it("covers every field but the hash itself and the signature", () => {
    const content = { a: 1 };
    expect(entryHash({ ...content, hash: "x", signature: "y" })).toBe(entryHash(content));
    expect(entryHash({ ...content, other: "x" })).not.toBe(entryHash(content));
  });
});

describe("verifyChain()", () => {
  it("accepts a sound chain of any length and says its head", () => {
    for (let length = 0; length <= five.length; length += 1)
      expect(verifyChain(five.slice(0, length), publicKey)).toEqual({
        ok: true,
        head: five[length - 1]?.hash ?? genesisHash,
        entries: length,
      });
  });

  it("finds any change of one field of one entry, and names the entry", () => {
    const change = fc.constantFrom<(entry: Entry) => Entry>(
      (entry) => ({ ...entry, sequence: entry.sequence + 1 }),
      (entry) => ({ ...entry, at: "2024-01-31T08:00:00.000Z" }),
      (entry) => ({ ...entry, actor: "b" }),
      (entry) => ({ ...entry, body: { ...(entry.body as object), x: 0 } }),
      (entry) => ({ ...entry, previous: `1${entry.previous.slice(1)}` }),
      (entry) => ({ ...entry, hash: entry.hash.replace(/.$/, (last) => (last === "0" ? "1" : "0")) }),
      (entry) => ({ ...entry, hash: entry.hash.toUpperCase() }),
      (entry) => ({ ...entry, signature: entry.signature.toUpperCase() }),
      (entry) => ({ ...entry, signature: entry.signature.replace(/^./, (c) => (c === "0" ? "1" : "0")) }),
      (entry) => ({ ...entry, signature: "" }),
      (entry) => ({ ...entry, added: true }) as Entry,
      (entry) => {
        const { actor: _, ...rest } = entry;
        return rest as Entry;
      },
    );
    fc.assert(
      fc.property(fc.nat(four), change, (place, changed) => {
        const altered = five.map((entry, i) => (i === place ? changed(entry) : entry));
        expect(verifyChain(altered, publicKey)).toMatchObject({
          ok: false,
          sequence: place + 1,
          problem: expect.stringContaining(`entry ${place + 1} `),
        });
      }),
    );
  });

  it("finds a change of the body even where its author made hash and signature anew with the right key", () => {
    fc.assert(
      fc.property(fc.nat(four - 1), (place) => {
        const forged = chainOf(
          [...five.map((entry) => entry.body)].map((body, i) => (i === place ? { forged: 1 } : body)),
        );
        const altered = five.map((entry, i) => (i === place ? (forged[i] ?? entry) : entry));
        expect(verifyChain(altered, publicKey)).toMatchObject({ ok: false, sequence: place + 2 });
      }),
    );
  });

  it("finds every entry taken out before the last, put in, or moved", () => {
    fc.assert(
      fc.property(fc.nat(four), fc.nat(four), (from, to) => {
        const without = five.filter((_, i) => i !== from);
        if (from < four)
          expect(verifyChain(without, publicKey)).toMatchObject({ ok: false, sequence: from + 1 });
        const twice = five.flatMap((entry, i) => (i === from ? [entry, entry] : [entry]));
        expect(verifyChain(twice, publicKey)).toMatchObject({ ok: false, sequence: from + 2 });
        const moved = [...without.slice(0, to), five[from] as Entry, ...without.slice(to)];
        if (from !== to) expect(verifyChain(moved, publicKey).ok).toBe(false);
      }),
    );
  });

  it("needs a known head to notice what was cut off at the end", () => {
    const head = five.at(-1)?.hash ?? "";
    const cut = five.slice(0, 3);
    expect(verifyChain(cut, publicKey).ok).toBe(true);
    expect(verifyChain(cut, publicKey, { head })).toMatchObject({
      ok: false,
      sequence: 4,
      problem: expect.stringContaining(head),
    });
    expect(verifyChain(five, publicKey, { head: five[2]?.hash ?? "" }).ok).toBe(true);
  });

  it("finds a whole chain rewritten with another key", () => {
    const forged = chainOf([{ amps: 1 }], "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb");
    expect(verifyChain(forged).ok).toBe(true);
    expect(verifyChain(forged, publicKey)).toMatchObject({
      ok: false,
      problem: expect.stringContaining("signature"),
    });
  });

  it("reports an entry that cannot be hashed instead of throwing", () => {
    const [first] = five;
    const odd = { ...(first as Entry), body: Number.NaN };
    expect(verifyChain([odd], publicKey)).toMatchObject({
      ok: false,
      problem: expect.stringContaining("entry 1 cannot be hashed: $.body is NaN"),
    });
  });
});
