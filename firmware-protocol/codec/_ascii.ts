/** Value of an upper-case hexadecimal digit given as its ASCII byte, or -1. */
export function hexDigit(byte: number): number {
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30;
  if (byte >= 0x41 && byte <= 0x46) return byte - 0x37;
  return -1;
}

/** The four upper-case hexadecimal digits at `bytes[start]` as a number, or -1 if that is not what stands there. */
export function hexWord(bytes: Uint8Array, start: number): number {
  let word = 0;
  for (let i = start; i < start + 4; i += 1) {
    const digit = hexDigit(bytes[i] ?? 0);
    if (digit === -1) return -1;
    word = word * 16 + digit;
  }
  return word;
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
