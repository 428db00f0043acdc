import { bytesOfHex } from "./hex-bytes.ts";
import { sha256Hex } from "./sha256-hex.ts";

/** Crockford's base 32: no I, L, O or U, so that a code read aloud or off a label is not mistaken. */
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/**
 * Four characters that name a station in the identifiers of its records: the first 20 bits of the SHA-256 of its public
 * key (64 lower-case hex digits), five bits a character. They tell stations apart for people; the key itself is the proof.
 *
 * @throws RangeError if the key is not 64 lower-case hex digits
 */
export function stationId(publicKey: string): string {
  const bytes = bytesOfHex(publicKey, 32);
  if (bytes === null)
    throw new RangeError(`expected a public key of 64 lower-case hex digits, found ${publicKey}`);
  const bits = Number.parseInt(sha256Hex(bytes).slice(0, 5), 16);
  return [15, 10, 5, 0].map((shift) => alphabet[(bits >> shift) & 31]).join("");
}
