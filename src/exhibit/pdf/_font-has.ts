import type { FontName } from "./open-fonts.ts";

/** Whether a font of the document has a glyph for a code point. Leaves this font chosen. */
export function fontHas(document: PDFKit.PDFDocument, font: FontName): (codePoint: number) => boolean {
  document.font(font);
  // The types of the library do not know the font that it has opened.
  const opened = (document as unknown as { _font: { font: OpenedFont } })._font.font;
  return (codePoint) => opened.hasGlyphForCodePoint(codePoint);
}

interface OpenedFont {
  hasGlyphForCodePoint(codePoint: number): boolean;
}
