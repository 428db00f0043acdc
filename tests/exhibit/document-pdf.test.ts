import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ExhibitDocument } from "../../src/exhibit/document-model.ts";
import { breakLines } from "../../src/exhibit/pdf/break-lines.ts";
import { renderDocument } from "../../src/exhibit/pdf/render-document.ts";

const long = "word ".repeat(2500);
const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="50"><path d="M0 0L9 9" stroke="#000"/></svg>';

const document = (more: Partial<ExhibitDocument> = {}): ExhibitDocument => ({
  title: "Tests of A & <B>",
  subject: "Subject",
  author: "Invented lab",
  dated: new Date("2025-01-31T08:00:00.000Z"),
  demoMark: "DEMO",
  topLine: "Exhibit A",
  sourceLine: "head 00",
  bates: "X",
  blocks: [
    { kind: "heading", level: 1, text: "Head" },
    { kind: "paragraph", text: long },
    { kind: "list", items: ["one", long] },
    { kind: "facts", title: "Facts", rows: [["name", long]] },
    {
      kind: "table",
      title: "Table",
      header: ["a", "b"],
      rows: [["1", "x".repeat(300)]],
      widths: [1, 1],
      mono: [1],
    },
    { kind: "figure", figure: { name: "f", title: "F", words: "A line.", svg } },
  ],
  ...more,
});

describe("a rendered document", () => {
  it("is the same bytes for the same document, and others for another", async () => {
    const [first, again, other] = await Promise.all([
      renderDocument(document()),
      renderDocument(document()),
      renderDocument(document({ title: "Other" })),
    ]);
    expect(Buffer.compare(first, again)).toBe(0);
    expect(Buffer.compare(first, other)).not.toBe(0);
  });

  it("carries the marks of PDF/A-2b, well-formed metadata, and nothing encrypted", async () => {
    const text = Buffer.from(await renderDocument(document())).toString("latin1");
    expect(text.startsWith("%PDF-1.7")).toBe(true);
    expect(text).toContain("<pdfaid:part>2</pdfaid:part>");
    expect(text).toContain("<pdfaid:conformance>B</pdfaid:conformance>");
    expect(text).toContain("GTS_PDFA1");
    expect(text).toMatch(/\/MarkInfo/);
    expect(text).not.toContain("/Encrypt");
    const xmp = /<x:xmpmeta[\s\S]*<\/x:xmpmeta>/.exec(text)?.[0] ?? "";
    expect(xmp).not.toMatch(/&(?!amp;|lt;|gt;)/);
  });

  it("refuses a figure without a size", async () => {
    const figure = { name: "f", title: "F", words: "", svg: "<svg/>" };
    await expect(renderDocument(document({ blocks: [{ kind: "figure", figure }] }))).rejects.toThrow(
      "must give width and height",
    );
  });
});

describe("breakLines", () => {
  const widthOf = (piece: string) => [...piece].length;

  it("loses no letter but blanks, and keeps every line within the width", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme-ascii" }), fc.integer({ min: 1, max: 12 }), (text, width) => {
        const lines = breakLines(text, width, widthOf);
        expect(lines.join("").replace(/\s/g, "")).toBe(text.replace(/\s/g, ""));
        expect(lines.every((line) => widthOf(line) <= width)).toBe(true);
        expect(lines.length).toBeGreaterThan(0);
      }),
    );
  });

  it("breaks at blanks, inside long words, and at line feeds", () => {
    expect(breakLines("one two three", 7, widthOf)).toEqual(["one two", "three"]);
    expect(breakLines("abcdefgh ij", 3, widthOf)).toEqual(["abc", "def", "gh", "ij"]);
    expect(breakLines("a\nb", 9, widthOf)).toEqual(["a", "b"]);
  });
});
