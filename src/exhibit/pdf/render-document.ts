import type { Block, ExhibitDocument } from "../document-model.ts";
import { drawFigure, figureSize } from "./_figure-block.ts";
import { Cursor, type Letters, paper } from "./_page.ts";
import { startPdf } from "./_start-pdf.ts";
import { drawTable } from "./_table-block.ts";
import { drawList, drawText } from "./_text-block.ts";
import type { FontName } from "./open-fonts.ts";

/**
 * A document as PDF: embedded open fonts, vector figures, tagged, with title and language, and PDF/A-2b in structure (output
 * intent sRGB, XMP, no encryption, nothing external). The same document gives the same bytes: dates come from it, and the file's
 * identifier is a hash of it.
 *
 * Source: ISO 19005-2:2011 as summarised in public.
 * Checked: tests/system/pdf-a.test.ts, by an independent validator of PDF/A-1b and by what part 2 demands beyond it.
 *
 * @throws Error for a figure that cannot be drawn whole
 */
export async function renderDocument(exhibit: ExhibitDocument): Promise<Uint8Array> {
  const { cursor, finished } = laidOut(exhibit);
  markPages(cursor, exhibit);
  return finished();
}

/** How many pages a document has. */
export const pagesOf = (exhibit: ExhibitDocument): number =>
  laidOut(exhibit).cursor.document.bufferedPageRange().count;

function laidOut(exhibit: ExhibitDocument): { cursor: Cursor; finished: () => Promise<Uint8Array> } {
  const { document, finished } = startPdf(exhibit, JSON.stringify(exhibit));
  const cursor = new Cursor(document);
  exhibit.blocks.forEach((block, at) => {
    drawBlock(cursor, block, wantedAt(exhibit.blocks, at + 1), exhibit.textSize ?? 9);
  });
  return { cursor, finished };
}

/** Height of a few lines below a heading, in points. */
const keptWithHeading = 60;

/** Height that must follow a heading on its page: some lines, the whole of a figure, or the next heading with what that wants. */
function wantedAt(blocks: readonly Block[], at: number): number {
  const next = blocks[at];
  if (next?.kind === "figure") return figureSize(next.figure).height + 5;
  return next?.kind === "heading" ? keptWithHeading / 2 + wantedAt(blocks, at + 1) : keptWithHeading;
}

function drawBlock(cursor: Cursor, block: Block, keepWithNext: number, size: number): void {
  const plain: Letters = { font: "plain", size };
  const paragraphs: Readonly<Record<"plain" | "strong" | "small", Letters>> = {
    plain,
    strong: { font: "bold", size },
    small: { font: "plain", size: size - 1.2 },
  };
  switch (block.kind) {
    case "heading": {
      const [tag, headSize, before] =
        block.level === 1 ? (["H1", 14, 10] as const) : (["H2", 11, 8] as const);
      drawText(cursor, tag, block.text, { font: "bold", size: headSize }, { before, after: 5, keepWithNext });
      break;
    }
    case "paragraph":
      drawText(cursor, "P", block.text, paragraphs[block.weight ?? "plain"], { before: 0, after: 6 });
      break;
    case "list":
      drawList(cursor, block.items, plain);
      break;
    case "facts":
      drawTable(cursor, { title: block.title, header: null, rows: block.rows, widths: [0.24, 0.76] });
      break;
    case "table":
      drawTable(cursor, block);
      break;
    case "figure":
      drawFigure(cursor, block.figure);
      break;
  }
}

/** What stands on every page, outside the order of reading. */
function markPages(cursor: Cursor, exhibit: ExhibitDocument): void {
  const { document } = cursor;
  const { start, count } = document.bufferedPageRange();
  const small = { font: "plain", size: 7.5 } as const;
  const right = (text: string, y: number, font: FontName): void => {
    const letters = { font, size: small.size };
    cursor.draw([text], letters, paper.right - cursor.widthOf(text, letters), y);
  };
  for (let page = 0; page < count; page += 1) {
    document.switchToPage(start + page);
    document.markContent("Artifact", { type: "Pagination" });
    const [top = ""] = cursor.lines(exhibit.topLine, small, 250);
    cursor.draw([top], small, paper.left, 32);
    right(exhibit.title.slice(0, 70), 32, "plain");
    if (exhibit.demoMark !== null) {
      document
        .rect(paper.left, 43, paper.right - paper.left, 14)
        .lineWidth(1)
        .strokeColor("#000000")
        .stroke();
      const letters = { font: "bold", size: 8.5 } as const;
      const x = (paper.width - cursor.widthOf(exhibit.demoMark, letters)) / 2;
      cursor.draw([exhibit.demoMark], letters, x, 45.5);
    }
    cursor.draw([exhibit.sourceLine], small, paper.left, 738);
    right(`page ${page + 1} of ${count}`, 738, "plain");
    if (exhibit.bates !== null) right(`${exhibit.bates}${String(page + 1).padStart(6, "0")}`, 750, "bold");
    document.endMarkedContent();
  }
}
