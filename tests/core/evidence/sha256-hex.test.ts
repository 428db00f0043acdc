import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sha256Hex, sha256HexOfParts } from "../../../src/core/evidence/sha256-hex.ts";

describe("sha256Hex()", () => {
  // "" and "abc": NIST, Secure Hash Standard examples for SHA-256. "hello\n": sha256sum of GNU coreutils.
  it.each([
    ["", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
    ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
    ["hello\n", "5891b5b522d5df086d0ff0b110fbd9d21bb4fc7163af34d08286a2e846f6be03"],
  ])("hashes %j", (text, hash) => {
    expect(sha256Hex(text)).toBe(hash);
  });

  it("agrees with OpenSSL, for texts, for bytes, and for bytes in parts", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.array(fc.uint8Array()), (text, parts) => {
        expect(sha256Hex(text)).toBe(createHash("sha256").update(text, "utf8").digest("hex"));
        const whole = createHash("sha256").update(Buffer.concat(parts)).digest("hex");
        expect(sha256Hex(Buffer.concat(parts))).toBe(whole);
        expect(sha256HexOfParts(parts)).toBe(whole);
      }),
    );
  });
});
