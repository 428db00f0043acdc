import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";

/**
 * SHA-256 of bytes, or of a text's UTF-8 bytes, as 64 lower-case hexadecimal digits.
 *
 * Source: FIPS 180-4 (2015), section 6.2.
 *
 * @example
 * ```ts
 * sha256Hex("abc"); // "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
 * ```
 */
export function sha256Hex(data: string | Uint8Array): string {
  return bytesToHex(sha256(typeof data === "string" ? utf8ToBytes(data) : data));
}

/** SHA-256 of parts laid end to end, without joining them in memory; same form as {@link sha256Hex}. */
export function sha256HexOfParts(parts: Iterable<Uint8Array>): string {
  const hash = sha256.create();
  for (const part of parts) hash.update(part);
  return bytesToHex(hash.digest());
}
