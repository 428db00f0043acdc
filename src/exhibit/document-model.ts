/** A table of an exhibit: what is printed, and what its CSV holds. */
export interface DataTable {
  /** Name of the CSV file, without its ending. */
  name: string;
  title: string;
  header: readonly string[];
  rows: readonly (readonly (string | number | boolean | null)[])[];
}

/** One part of a document, in order of reading. */
export type Block =
  | { kind: "heading"; level: 1 | 2; text: string }
  | { kind: "paragraph"; text: string; weight?: "plain" | "strong" | "small" }
  | { kind: "list"; items: readonly string[] }
  /** A name and what is known of it, a line each. */
  | { kind: "facts"; title: string; rows: readonly (readonly [name: string, value: string])[] }
  /** `widths` are shares of the page's width, one for each column; columns in `mono` hold hashes. */
  | {
      kind: "table";
      title: string;
      header: readonly string[];
      rows: readonly (readonly string[])[];
      widths: readonly number[];
      mono?: readonly number[];
    }
  | { kind: "figure"; figure: Figure };

/** A vector figure with the words for readers who hear it. */
export interface Figure {
  /** Name of the SVG file, without its ending. */
  name: string;
  title: string;
  words: string;
  svg: string;
}

/** A whole document. The same document makes the same bytes. */
export interface ExhibitDocument {
  title: string;
  subject: string;
  author: string;
  /** Stands for the date of making: no clock enters the bytes. */
  dated: Date;
  /** On every page: a mark that what is shown is invented, or null. */
  demoMark: string | null;
  /** On every page, at the top: exhibit label and case, as the user words them. */
  topLine: string;
  /** On every page, at the bottom left. */
  sourceLine: string;
  /** Prefix of page numbers in Bates form, or null. */
  bates: string | null;
  /** Size of plain text in points; 9 where not given. */
  textSize?: number;
  blocks: readonly Block[];
}
