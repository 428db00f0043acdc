/** Structure types that exhibits use. */
export type Tag =
  | "H1"
  | "H2"
  | "P"
  | "L"
  | "LI"
  | "Lbl"
  | "LBody"
  | "Table"
  | "Caption"
  | "TR"
  | "TH"
  | "TD"
  | "Figure";

/** What an element may say of itself. `bbox` is left, top, right, bottom in points from the upper left corner. */
export interface ElementOptions {
  title?: string;
  alt?: string;
  bbox?: readonly [number, number, number, number];
  scope?: "Row" | "Column";
}

/** A new element of the logical structure; the types of the library know fewer options than it has. */
export function structureElement(
  document: PDFKit.PDFDocument,
  tag: Tag,
  options: ElementOptions = {},
): ReturnType<PDFKit.PDFDocument["struct"]> {
  return document.struct(tag, options as PDFKit.Mixins.StructureElementOptions);
}
