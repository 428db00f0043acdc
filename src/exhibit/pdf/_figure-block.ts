import svgToPdf from "svg-to-pdfkit";
import type { Figure } from "../document-model.ts";
import { drawableText } from "./_drawable-text.ts";
import { fontHas } from "./_font-has.ts";
import { type Cursor, contentWidth, paper } from "./_page.ts";
import { structureElement } from "./_structure.ts";
import type { FontName } from "./open-fonts.ts";

/** Room for two headings above a figure that would fill a page. */
const headingRoom = 80;

/** Size of a figure on the page, in points: as wide as the page allows, and no higher than a page below its headings. */
export function figureSize(figure: Figure): { width: number; height: number } {
  const size = sizeOf(figure);
  const highest = paper.bottom - paper.top - headingRoom;
  const scale = Math.min(contentWidth / size.width, highest / size.height);
  return { width: size.width * scale, height: size.height * scale };
}

/** Draws a figure as vectors, as wide as the page allows, as one tagged element with its words as alternative text. */
export function drawFigure(cursor: Cursor, figure: Figure): void {
  const { document } = cursor;
  const { width, height } = figureSize(figure);
  cursor.demand(height);
  const { y } = cursor;
  const x = paper.left + (contentWidth - width) / 2;
  const element = structureElement(document, "Figure", {
    title: figure.title,
    alt: figure.words,
    bbox: [x, y, x + width, y + height],
  });
  document.addStructure(element);
  element.add(() => {
    const [plain, bold] = [fontHas(document, "figure"), fontHas(document, "figure-bold")];
    // One sign for one letter, so that the figure's places hold; the number of the letter stands in the text.
    const svg = drawableText(
      figure.svg,
      (letter) => plain(letter) && bold(letter),
      () => "\ufffd",
    );
    svgToPdf(document, svg, x, y, {
      width,
      height,
      assumePt: true,
      preserveAspectRatio: "xMidYMid meet",
      fontCallback: (_family, bold): FontName => (bold ? "figure-bold" : "figure"),
      // What cannot be drawn must not be left out of an exhibit in silence.
      warningCallback: (warning) => {
        throw new Error(`figure ${figure.name}: ${warning}`);
      },
    });
  });
  element.end();
  cursor.y += height + 10;
}

/** @throws RangeError for a figure whose root element does not give its size */
function sizeOf({ name, svg }: Figure): { width: number; height: number } {
  const root = /<svg\b[^>]*>/.exec(svg)?.[0] ?? "";
  const [width, height] = (["width", "height"] as const).map((side) =>
    Number(new RegExp(`\\s${side}="([\\d.]+)(?:px)?"`).exec(root)?.[1] ?? Number.NaN),
  );
  if (width === undefined || height === undefined || !(width > 0 && height > 0))
    throw new RangeError(`figure ${name}: its root element must give width and height, found ${root}`);
  return { width, height };
}
