import { ed25519 } from "@noble/curves/ed25519.js";
import { bytesOfHex, hexOfBytes } from "./hex-bytes.ts";

/** Tells whether `signature` (128 hex digits) over `message` was made with the key that belongs to `publicKey` (64). */
export type SignatureCheck = (message: Uint8Array, signature: string, publicKey: string) => boolean;

/**
 * Public key of a secret Ed25519 key, both 64 lower-case hex digits.
 *
 * Source: RFC 8032 (2017), section 5.1.5.
 *
 * @throws RangeError if the secret is not 64 lower-case hex digits
 */
export function publicKeyOf(secretKey: string): string {
  return hexOfBytes(ed25519.getPublicKey(secretBytes(secretKey)));
}

/**
 * Ed25519 signature over `message`, 128 lower-case hex digits. The same key and message give the same signature.
 *
 * Source: RFC 8032 (2017), section 5.1.6. Checked with the vectors of its section 7.1.
 *
 * @throws RangeError if the secret is not 64 lower-case hex digits
 */
export function sign(message: Uint8Array, secretKey: string): string {
  return hexOfBytes(ed25519.sign(message, secretBytes(secretKey)));
}

/**
 * Checks an Ed25519 signature, strictly: encodings that are not canonical are refused, so that nobody can restate a
 * signature in another form. Malformed keys and signatures are false, not errors: they come from the world.
 *
 * Source: RFC 8032 (2017), section 5.1.7.
 */
export const verifySignature: SignatureCheck = (message, signature, publicKey) => {
  const signatureBytes = bytesOfHex(signature, 64);
  const keyBytes = bytesOfHex(publicKey, 32);
  if (signatureBytes === null || keyBytes === null) return false;
  try {
    return ed25519.verify(signatureBytes, message, keyBytes, { zip215: false });
  } catch {
    return false;
  }
};

function secretBytes(secretKey: string): Uint8Array {
  const bytes = bytesOfHex(secretKey, 32);
  if (bytes === null) throw new RangeError("expected a secret key of 64 lower-case hexadecimal digits");
  return bytes;
}
