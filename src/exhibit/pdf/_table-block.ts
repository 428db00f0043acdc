import { type Cursor, contentWidth, type Letters, lineHeight, paper } from "./_page.ts";
import { structureElement } from "./_structure.ts";

/** A table to be drawn; without a header its first column names the rows. */
export interface DrawnTable {
  title: string;
  header: readonly string[] | null;
  rows: readonly (readonly string[])[];
  /** Shares of the width, one for each column. */
  widths: readonly number[];
  mono?: readonly number[];
}

const titleLetters: Letters = { font: "bold", size: 9 };
const plain: Letters = { font: "plain", size: 8.2 };
const bold: Letters = { font: "bold", size: 8.2 };
const mono: Letters = { font: "mono", size: 6.6 };
const gap = 6;
const pad = 2.5;

type Cell = { lines: string[]; letters: Letters; tag: "TH" | "TD"; scope: "Row" | "Column" | null };

/** Draws a tagged table; its header is repeated on every page, and a row too long for a page goes on on the next. */
export function drawTable(cursor: Cursor, table: DrawnTable): void {
  const { document } = cursor;
  const { header } = table;
  const total = table.widths.reduce((sum, share) => sum + share, 0);
  const widths = table.widths.map((share) => (share / total) * contentWidth);
  const cellsOf = (row: readonly string[], kind: "header" | "body"): Cell[] =>
    row.map((text, column) => {
      const names = kind === "header" || (header === null && column === 0);
      const letters = names ? bold : table.mono?.includes(column) === true ? mono : plain;
      return {
        lines: cursor.lines(text, letters, (widths[column] ?? 0) - gap),
        letters,
        tag: names ? "TH" : "TD",
        scope: kind === "header" ? "Column" : names ? "Row" : null,
      };
    });
  const heightOf = (cells: readonly Cell[]): number =>
    Math.max(...cells.map(({ lines, letters }) => lines.length * lineHeight(letters))) + 2 * pad;

  const headerCells = header === null ? null : cellsOf(header, "header");
  const headerHeight = headerCells === null ? 0 : heightOf(headerCells);
  const first = table.rows[0];
  const firstHeight = first === undefined ? 0 : Math.min(heightOf(cellsOf(first, "body")), 200);
  cursor.y += 4;
  cursor.demand(lineHeight(titleLetters) + 2 + headerHeight + firstHeight);

  const element = structureElement(document, "Table");
  document.addStructure(element);
  const caption = structureElement(document, "Caption");
  element.add(caption);
  const titleLines = cursor.lines(table.title, titleLetters, contentWidth);
  caption.add(() => cursor.draw(titleLines, titleLetters, paper.left, cursor.y));
  caption.end();
  cursor.y += titleLines.length * lineHeight(titleLetters) + 2;

  const rule = (weight: number): void => {
    document.markContent("Artifact", { type: "Layout" });
    document
      .moveTo(paper.left, cursor.y)
      .lineTo(paper.right, cursor.y)
      .lineWidth(weight)
      .strokeColor("#777777")
      .stroke();
    document.endMarkedContent();
  };
  const drawCells = (cells: readonly Cell[], height: number): void => {
    const row = structureElement(document, "TR");
    element.add(row);
    let x: number = paper.left;
    cells.forEach(({ lines, letters, tag, scope }, column) => {
      const at = x;
      const cell = structureElement(document, tag, scope === null ? {} : { scope });
      row.add(cell);
      cell.add(() => cursor.draw(lines, letters, at, cursor.y + pad));
      cell.end();
      x += widths[column] ?? 0;
    });
    row.end();
    cursor.y += height;
  };
  const drawHeader = (): void => {
    rule(0.8);
    if (headerCells !== null) {
      drawCells(headerCells, headerHeight);
      rule(0.5);
    }
  };
  const nextPage = (): void => {
    rule(0.5);
    cursor.newPage();
    drawHeader();
  };

  drawHeader();
  for (const row of table.rows) {
    let cells = cellsOf(row, "body");
    const wholePage = paper.bottom - paper.top - headerHeight;
    if (heightOf(cells) > cursor.room && heightOf(cells) <= wholePage) nextPage();
    while (heightOf(cells) > cursor.room) {
      const room = cursor.room;
      const linesThatFit = ({ letters }: Cell): number =>
        Math.max(1, Math.floor((room - 2 * pad) / lineHeight(letters)));
      const now = cells.map((cell) => ({ ...cell, lines: cell.lines.slice(0, linesThatFit(cell)) }));
      drawCells(now, heightOf(now));
      cells = cells.map((cell) => ({ ...cell, lines: cell.lines.slice(linesThatFit(cell)) }));
      nextPage();
    }
    drawCells(cells, heightOf(cells));
    rule(0.25);
  }
  element.end();
  cursor.y += 10;
}
