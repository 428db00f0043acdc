/** Value of each byte as an upper-case hexadecimal digit, or -1. */
const digitOf = new Int8Array(256).fill(-1);
for (let value = 0; value < 16; value += 1) digitOf["0123456789ABCDEF".charCodeAt(value)] = value;

/** Value of an upper-case hexadecimal digit given as its ASCII byte, or -1. */
export function hexDigit(byte: number): number {
  return digitOf[byte] ?? -1;
}

/** The four upper-case hexadecimal digits at `bytes[start]` as a number, or -1 if that is not what stands there. */
export function hexWord(bytes: Uint8Array, start: number): number {
  if (start < 0 || start + 4 > bytes.length) return -1;
  const word =
    ((digitOf[bytes[start] as number] as number) << 12) |
    ((digitOf[bytes[start + 1] as number] as number) << 8) |
    ((digitOf[bytes[start + 2] as number] as number) << 4) |
    (digitOf[bytes[start + 3] as number] as number);
  return word < 0 ? -1 : word;
}

/** Whether a byte may stand for itself in a text: printable ASCII except space, `%`, `*` and `=`. */
export function isPlainText(byte: number): boolean {
  return byte > 0x20 && byte < 0x7f && byte !== 0x25 && byte !== 0x2a && byte !== 0x3d;
}

/** The bytes from `start` up to `end` for a message to a person: what cannot be printed is shown as `\xHH`. */
export function shown(bytes: Uint8Array, start: number, end: number): string {
  let text = "";
  for (const byte of bytes.subarray(start, Math.min(end, start + 40)))
    text +=
      byte >= 0x20 && byte < 0x7f
        ? String.fromCharCode(byte)
        : `\\x${byte.toString(16).toUpperCase().padStart(2, "0")}`;
  return end - start > 40 ? `"${text}..."` : `"${text}"`;
}
