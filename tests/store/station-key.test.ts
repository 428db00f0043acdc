import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { publicKeyOf, sign, verifySignature } from "../../src/core/evidence/signature.ts";
import { createStationKey, readStationKey, verifyFast } from "../../src/store/station-key.ts";
import { newFolder } from "./small-lab.ts";

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString("hex");

describe("station key", () => {
  it("is read back as it was made, and signs what its public part accepts", () => {
    const folder = newFolder();
    const made = createStationKey(folder);
    const read = readStationKey(folder);
    const message = Uint8Array.of(1, 2, 3);
    expect(read.publicKey).toBe(made.publicKey);
    expect(verifySignature(message, read.sign(message), made.publicKey)).toBe(true);
    expect(read.sign(message)).toBe(made.sign(message));
  });

  it("is never made over another, nor the same twice", () => {
    const folder = newFolder();
    const first = createStationKey(folder);
    const before = readFileSync(join(folder, "station-key.pem"));
    expect(() => createStationKey(folder)).toThrow("EEXIST");
    expect(readFileSync(join(folder, "station-key.pem")).equals(before)).toBe(true);
    expect(statSync(join(folder, "station-key.pem")).mode & 0o777).toBe(0o600);
    expect(createStationKey(newFolder()).publicKey).not.toBe(first.publicKey);
  });
});

describe("verifyFast()", () => {
  it("says the same as the pure check, of sound, changed and malformed signatures", () => {
    const seed = fc.uint8Array({ minLength: 32, maxLength: 32 });
    fc.assert(
      fc.property(seed, fc.uint8Array(), fc.nat(63), fc.nat(255), (secret, message, place, change) => {
        const publicKey = publicKeyOf(hex(secret));
        const signature = Buffer.from(sign(message, hex(secret)), "hex");
        signature[place] = (signature[place] ?? 0) ^ change;
        const found = verifyFast(message, hex(signature), publicKey);
        expect(found).toBe(change === 0);
        expect(verifySignature(message, hex(signature), publicKey)).toBe(found);
      }),
      { numRuns: 50, examples: [[new Uint8Array(32), Uint8Array.of(1), 0, 0]] },
    );
    for (const [signature, key] of [
      ["", ""],
      ["A".repeat(128), "a".repeat(64)],
      ["0".repeat(128), "f".repeat(64)],
    ] as const) {
      expect(verifyFast(new Uint8Array(), signature, key)).toBe(false);
      expect(verifySignature(new Uint8Array(), signature, key)).toBe(false);
    }
  });
});
