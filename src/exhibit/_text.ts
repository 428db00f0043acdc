import { ink } from "./_ink.ts";
import { element, escapeText } from "./_svg.ts";

/**
 * Advance widths of DejaVu Sans 2.37 in thousandths of its size, characters 32 to 126; read from the font's own table.
 * Kerning makes real text a little narrower.
 */
const widths = [
  318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
  636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
  295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
  500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
  392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
] as const;

/** Of characters outside the table; the signs that figures use are no wider, ideographs are a full square. */
const otherWidth = 838;
const squareWidth = 1000;

/** The bold face is at most so much wider. */
const boldFactor = 1.14;

/** Width of a line of text in pixels. */
export function textWidth(text: string, size: number, bold = false): number {
  let total = 0;
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    total += widths[code - 32] ?? (code >= 0x2e80 ? squareWidth : otherWidth);
  }
  return (total / 1000) * size * (bold ? boldFactor : 1);
}

/** How a line of text stands at its place; `y` is its base line. */
export interface TextStyle {
  size?: number;
  anchor?: "start" | "middle" | "end";
  bold?: boolean;
  fill?: string;
  /** Lays paper behind the text, so that lines below do not cross it. */
  plate?: boolean;
}

/** Usual size of letters, in pixels. */
export const textSize = 12;

/** One line of text. */
export function textLine(x: number, y: number, text: string, style: TextStyle = {}): string {
  const { size = textSize, anchor = "start", bold = false, fill = ink.text, plate = false } = style;
  if (text === "") return "";
  const line = element(
    "text",
    {
      x,
      y,
      "font-size": size,
      "text-anchor": anchor === "start" ? undefined : anchor,
      "font-weight": bold ? "bold" : undefined,
      fill,
    },
    escapeText(text),
  );
  if (!plate) return line;
  const width = textWidth(text, size, bold);
  const left = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
  const behind = { x: left - 2, y: y - size * 0.82, width: width + 4, height: size * 1.12, fill: ink.paper };
  return `${element("rect", behind)}${line}`;
}

/** Text cut into lines that are no wider than `width`; a word that alone is wider is cut. */
export function wrapText(text: string, width: number, size = textSize, bold = false): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/).filter((part) => part !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (textWidth(longer, size, bold) <= width) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    line = "";
    for (const letter of word) {
      if (line !== "" && textWidth(line + letter, size, bold) > width) {
        lines.push(line);
        line = "";
      }
      line += letter;
    }
  }
  if (line !== "") lines.push(line);
  return lines;
}

/** Text that fits into `width`, its end cut and marked where it does not. */
export function fitText(text: string, width: number, size = textSize, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text;
  let kept = "";
  for (const letter of text) {
    if (textWidth(`${kept}${letter}...`, size, bold) > width) break;
    kept += letter;
  }
  return `${kept.trimEnd()}...`;
}

/** A label about the middle `y` of its row: on one line, or where it is too wide on two smaller ones. */
export function labelLines(x: number, y: number, text: string, width: number, bold = false): string[] {
  if (textWidth(text, textSize, bold) <= width) return [textLine(x, y + 4, text, { bold })];
  const small = 10;
  const [first = "", ...rest] = wrapText(text, width, small, bold);
  const second = fitText(rest.join(" "), width, small, bold);
  const style = { size: small, bold };
  if (second === "") return [textLine(x, y + 4, first, style)];
  return [textLine(x, y - 2, first, style), textLine(x, y + 9, second, style)];
}
