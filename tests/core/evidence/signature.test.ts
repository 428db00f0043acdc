import { createPublicKey, verify } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hexOfBytes } from "../../../src/core/evidence/hex-bytes.ts";
import { publicKeyOf, sign, verifySignature } from "../../../src/core/evidence/signature.ts";

// RFC 8032, section 7.1, tests 1 to 3.
const vectors = [
  {
    secret: "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
    publicKey: "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
    message: "",
    signature:
      "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
  },
  {
    secret: "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
    publicKey: "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
    message: "72",
    signature:
      "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
  },
  {
    secret: "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
    publicKey: "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
    message: "af82",
    signature:
      "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
  },
];
const bytes = (hex: string) => Uint8Array.from(Buffer.from(hex, "hex"));

describe("Ed25519", () => {
  it.each(vectors)("makes and accepts the signature of RFC 8032 over [$message]", (vector) => {
    expect(publicKeyOf(vector.secret)).toBe(vector.publicKey);
    expect(sign(bytes(vector.message), vector.secret)).toBe(vector.signature);
    expect(verifySignature(bytes(vector.message), vector.signature, vector.publicKey)).toBe(true);
  });

  it("makes signatures that OpenSSL accepts", () => {
    const seed = fc.uint8Array({ minLength: 32, maxLength: 32 });
    fc.assert(
      fc.property(seed, fc.uint8Array(), (secret, message) => {
        const publicKey = publicKeyOf(hexOfBytes(secret));
        const key = createPublicKey({
          key: { kty: "OKP", crv: "Ed25519", x: Buffer.from(publicKey, "hex").toString("base64url") },
          format: "jwk",
        });
        expect(verify(null, message, key, Buffer.from(sign(message, hexOfBytes(secret)), "hex"))).toBe(true);
      }),
      { numRuns: 30 },
    );
  });

  it("notices one changed bit in message, signature or key", () => {
    const { secret, publicKey } = vectors[0] ?? { secret: "", publicKey: "" };
    const message = Uint8Array.from({ length: 32 }, (_, i) => i);
    const signature = bytes(sign(message, secret));
    const key = bytes(publicKey);
    fc.assert(
      fc.property(fc.nat(32 + 64 + 32 - 1), fc.nat(7), (place, bit) => {
        const all = Uint8Array.from([...message, ...signature, ...key]);
        all[place] = (all[place] ?? 0) ^ (1 << bit);
        const accepted = verifySignature(
          all.slice(0, 32),
          hexOfBytes(all.slice(32, 96)),
          hexOfBytes(all.slice(96)),
        );
        expect(accepted).toBe(false);
      }),
      { numRuns: 60 },
    );
  });

  it("refuses the same signature in another spelling", () => {
    const { message, signature, publicKey } = vectors[1] ?? { message: "", signature: "", publicKey: "" };
    expect(verifySignature(bytes(message), signature.toUpperCase(), publicKey)).toBe(false);
    expect(verifySignature(bytes(message), signature.slice(2), publicKey)).toBe(false);
    expect(verifySignature(bytes(message), "", publicKey)).toBe(false);
    expect(verifySignature(bytes(message), signature, "not a key")).toBe(false);
  });

  it("refuses a signature whose second half has the group's order added (RFC 8032, section 5.1.7)", () => {
    const { message, signature, publicKey } = vectors[1] ?? { message: "", signature: "", publicKey: "" };
    const order = 2n ** 252n + 27742317777372353535851937790883648493n;
    const half = bytes(signature).slice(32).reverse();
    const restated = (BigInt(`0x${hexOfBytes(half)}`) + order).toString(16).padStart(64, "0");
    const other = signature.slice(0, 64) + hexOfBytes(bytes(restated).reverse());
    expect(other).toHaveLength(128);
    expect(verifySignature(bytes(message), other, publicKey)).toBe(false);
  });

  it("refuses a secret that is not 64 hex digits", () => {
    expect(() => sign(new Uint8Array(), "abc")).toThrow(RangeError);
    expect(() => publicKeyOf("Z".repeat(64))).toThrow("64 lower-case hexadecimal digits");
  });
});
