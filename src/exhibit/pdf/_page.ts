import { drawableText } from "./_drawable-text.ts";
import { fontHas } from "./_font-has.ts";
import { breakLines } from "./break-lines.ts";
import type { FontName } from "./open-fonts.ts";

/** Letter paper in points, with room for what stands on every page. */
export const paper = { width: 612, height: 792, left: 54, right: 558, top: 66, bottom: 724 } as const;

/** Width between the margins. */
export const contentWidth = paper.right - paper.left;

/** Letters of one piece of text. */
export interface Letters {
  font: FontName;
  size: number;
  color?: string;
}

export const lineHeight = (letters: Letters): number => letters.size * 1.32;

/** The next free line on the page, and the ways to move it. */
export class Cursor {
  readonly document: PDFKit.PDFDocument;
  y: number = paper.top;

  constructor(document: PDFKit.PDFDocument) {
    this.document = document;
  }

  /** Space left on this page, in points. */
  get room(): number {
    return paper.bottom - this.y;
  }

  /** Begins a new page where less than `height` is left on this one. */
  demand(height: number): void {
    if (height > this.room && this.y > paper.top) this.newPage();
  }

  newPage(): void {
    this.document.addPage();
    this.y = paper.top;
  }

  /** Lines of a text in these letters, no wider than `width`. */
  lines(text: string, letters: Letters, width: number): string[] {
    return breakLines(text, width, this.#measure(letters));
  }

  /** Width of a text in these letters as it is drawn, in points. */
  widthOf(text: string, letters: Letters): number {
    return this.#measure(letters)(text);
  }

  #measure(letters: Letters): (text: string) => number {
    const { document } = this;
    const has = fontHas(document, letters.font);
    document.fontSize(letters.size);
    return (text) => document.widthOfString(drawableText(text, has));
  }

  /** Draws lines one below the other from x, y; the cursor stays. */
  draw(lines: readonly string[], letters: Letters, x: number, y: number): void {
    const { document } = this;
    const has = fontHas(document, letters.font);
    document.fontSize(letters.size).fillColor(letters.color ?? "#000000");
    lines.forEach((line, at) => {
      document.text(drawableText(line, has), x, y + at * lineHeight(letters), { lineBreak: false });
    });
  }
}
