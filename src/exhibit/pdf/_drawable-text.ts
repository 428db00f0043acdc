/**
 * The text as it can be drawn: a letter that the font does not have becomes its stand-in, every blank a plain space. Without this
 * a PDF would refer to the glyph .notdef, an empty box from which nobody can tell what was written, and which PDF/A-2 forbids
 * (ISO 19005-2:2011, 6.2.11.8; from memory).
 *
 * @param has whether the font has a glyph for a code point; letters of ASCII are in every open font and are not asked for
 * @example drawableText("漢 A", () => false) // "[U+6F22] A"
 */
export function drawableText(
  text: string,
  has: (codePoint: number) => boolean,
  standIn: (codePoint: number) => string = unicodeNumber,
): string {
  return text.replace(/[^ -~]/gu, (letter) => {
    const codePoint = letter.codePointAt(0) ?? 0;
    if (/\s/u.test(letter)) return " ";
    return has(codePoint) ? letter : standIn(codePoint);
  });
}

const unicodeNumber = (codePoint: number): string =>
  `[U+${codePoint.toString(16).toUpperCase().padStart(4, "0")}]`;
