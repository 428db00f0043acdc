import { bytesToHex, hexToBytes } from "@noble/hashes/utils.js";

/**
 * Bytes of exactly `length` written as lower-case hexadecimal, or null. Upper case is refused, so that each value has one
 * spelling and a changed letter case in a stored record is a change.
 */
export function bytesOfHex(hex: string, length: number): Uint8Array | null {
  return typeof hex === "string" && hex.length === 2 * length && /^[0-9a-f]*$/.test(hex)
    ? hexToBytes(hex)
    : null;
}

/** Lower-case hexadecimal of `bytes`. */
export function hexOfBytes(bytes: Uint8Array): string {
  return bytesToHex(bytes);
}
