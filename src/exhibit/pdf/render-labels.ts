import QRCode from "qrcode";
import { formatAmps } from "../../core/units/format-amps.ts";
import { Cursor, type Letters } from "./_page.ts";
import { startPdf } from "./_start-pdf.ts";
import { structureElement } from "./_structure.ts";

/** What stands on one label. */
export interface SpecimenLabel {
  /** Identifier, which the code holds: `7K2M-S0001`. */
  specimen: string;
  label: string;
  ratedAmps: number;
  poles: number;
  volts: number;
  demo: boolean;
}

/** Sheets of labels. `dated` stands for the date of making; `skip` places at the start of the first sheet are left empty. */
export interface LabelSheet {
  lab: string;
  station: string;
  dated: Date;
  skip: number;
  labels: readonly SpecimenLabel[];
}

/**
 * Places of labels on letter paper, in points: three columns of ten, 2 5/8 by 1 inch, the common size of address labels
 * (common practice, from memory: measure a sheet before printing on it).
 */
export const labelPlaces = {
  columns: 3,
  rows: 10,
  left: 13.5,
  top: 36,
  width: 189,
  height: 72,
  columnPitch: 198,
} as const;

/** Side of a module of the code, in points: 0.7 mm, which a hand scanner reads from a hand's breadth. */
const module = 2;
/** Empty modules that ISO/IEC 18004 demands around a code. */
const quiet = 4;

/**
 * Labels with the code of each specimen's identifier, its label, rating, poles and station, as PDF. The same sheet gives the same
 * bytes.
 *
 * Source: ISO/IEC 18004 for the code, by the package that draws it.
 *
 * @throws RangeError for a sheet without labels, or a `skip` that is no place on a sheet
 */
export async function renderLabels(sheet: LabelSheet): Promise<Uint8Array> {
  const { columns, rows } = labelPlaces;
  const perSheet = columns * rows;
  if (sheet.labels.length === 0) throw new RangeError("a sheet needs at least one label but has none");
  if (!Number.isInteger(sheet.skip) || sheet.skip < 0 || sheet.skip >= perSheet)
    throw new RangeError(`expected a skip of 0 to ${perSheet - 1} but found ${sheet.skip}`);
  const { document, finished } = startPdf(
    {
      title: `Labels of ${sheet.labels.length} ${sheet.labels.length === 1 ? "specimen" : "specimens"}`,
      author: sheet.lab,
      subject: "Labels with codes for specimens",
      dated: sheet.dated,
    },
    JSON.stringify(sheet),
  );
  const cursor = new Cursor(document);
  sheet.labels.forEach((one, at) => {
    const place = at + sheet.skip;
    if (at > 0 && place % perSheet === 0) cursor.newPage();
    const onSheet = place % perSheet;
    drawLabel(
      cursor,
      one,
      sheet.station,
      labelPlaces.left + (onSheet % columns) * labelPlaces.columnPitch,
      labelPlaces.top + Math.floor(onSheet / columns) * labelPlaces.height,
    );
  });
  return finished();
}

function drawLabel(cursor: Cursor, one: SpecimenLabel, station: string, x: number, y: number): void {
  const { document } = cursor;
  const side = drawCode(cursor, one.specimen, x, y);
  const left = x + side;
  const width = labelPlaces.width - side - 6;
  const lines: [string, Letters, number][] = [
    [one.label, { font: "bold", size: 12 }, 12],
    [
      `${formatAmps(one.ratedAmps)}, ${one.poles} ${one.poles === 1 ? "pole" : "poles"}, ${one.volts} V`,
      { font: "plain", size: 9 },
      29,
    ],
    [one.specimen, { font: "mono", size: 8 }, 43],
    [`station ${station}${one.demo ? " · DEMO, invented" : ""}`, { font: "plain", size: 7.5 }, 55],
  ];
  const element = structureElement(document, "P");
  document.addStructure(element);
  for (const [text, letters, down] of lines)
    element.add(() => cursor.draw([text], fitted(cursor, text, letters, width), left, y + down));
  element.end();
}

/** The letters, made smaller where the text is wider than its label. */
function fitted(cursor: Cursor, text: string, letters: Letters, width: number): Letters {
  const wide = cursor.widthOf(text, letters);
  return wide <= width ? letters : { ...letters, size: (letters.size * width) / wide };
}

/** Draws the code in the middle of the label's height; gives its side with the empty modules around it. */
function drawCode({ document }: Cursor, text: string, x: number, y: number): number {
  const { size, data } = QRCode.create(text, { errorCorrectionLevel: "M" }).modules;
  const side = (size + 2 * quiet) * module;
  const [left, top] = [x + quiet * module, y + (labelPlaces.height - size * module) / 2];
  const element = structureElement(document, "Figure", {
    alt: `Code that holds ${text}`,
    bbox: [left, top, left + size * module, top + size * module],
  });
  document.addStructure(element);
  element.add(() => {
    for (let row = 0; row < size; row += 1)
      for (let column = 0; column < size; column += 1)
        if (data[row * size + column] !== 0)
          document.rect(left + column * module, top + row * module, module, module);
    document.fill("#000000");
  });
  element.end();
  return side;
}
