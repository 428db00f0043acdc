import { crc16 } from "../../firmware-protocol/codec/crc16.ts";

/** A line with a check that holds, whatever it says, without its newline. */
export function encodeRaw(text: string): Uint8Array {
  const bytes = new TextEncoder().encode(text);
  const check = crc16(bytes).toString(16).toUpperCase().padStart(4, "0");
  return new TextEncoder().encode(`${text}*${check}`);
}
