import { ink } from "./_ink.ts";
import { textLine, wrapText } from "./_text.ts";

/** A block of text with the height it takes. */
export interface Block {
  markup: string[];
  height: number;
}

/** Title and what the figure counts or shows, at the top left of a figure. */
export function heading(title: string, below: string, left: number, width: number): Block {
  const titleLines = wrapText(title, width, 15, true);
  const belowLines = wrapText(below, width);
  const markup = [
    ...titleLines.map((line, i) => textLine(left, 26 + i * 19, line, { size: 15, bold: true })),
    ...belowLines.map((line, i) =>
      textLine(left, 26 + titleLines.length * 19 + i * 16, line, { fill: ink.soft }),
    ),
  ];
  return { markup, height: 16 + titleLines.length * 19 + belowLines.length * 16 };
}

/** Notes under a figure, each beginning on its own line. `top` is where the block begins. */
export function noteBlock(notes: readonly string[], left: number, top: number, width: number): Block {
  const lines = notes.flatMap((note) => wrapText(note, width, 11));
  return {
    markup: lines.map((line, i) => textLine(left, top + 12 + i * 15, line, { size: 11, fill: ink.soft })),
    height: lines.length * 15 + 6,
  };
}
