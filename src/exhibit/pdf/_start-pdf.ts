import { createHash } from "node:crypto";
import PDFDocument from "pdfkit";
import { paper } from "./_page.ts";
import { openFonts } from "./open-fonts.ts";

/**
 * A new PDF, PDF/A-2b in structure, with the open fonts registered. Dates come from the document, and the file's identifier is
 * a hash of `content`, so that the same content gives the same bytes.
 *
 * @returns the document, and what ends it and gives its bytes
 */
export function startPdf(
  { title, author, subject, dated }: { title: string; author: string; subject: string; dated: Date },
  content: string,
): { document: PDFKit.PDFDocument; finished: () => Promise<Uint8Array> } {
  const document = new PDFDocument({
    size: [paper.width, paper.height],
    // Nothing is laid out by the library, so that it never begins a page by itself.
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
    pdfVersion: "1.7",
    subset: "PDF/A-2b",
    tagged: true,
    lang: "en-US",
    displayTitle: true,
    bufferPages: true,
    // None at first: the library would not know this one again by its name, and read its file at every use.
    font: "",
    info: {
      Title: forMetadata(title),
      Author: forMetadata(author),
      Subject: forMetadata(subject),
      Creator: "asfound",
      // No ModDate: the library has no place for it in XMP, and the two must tell the same.
      CreationDate: dated,
    },
  });
  const parts: Buffer[] = [];
  document.on("data", (part: Buffer) => parts.push(part));
  const ended = new Promise<void>((settle, fail) => {
    document.once("end", settle);
    document.once("error", fail);
  });
  const identifier = createHash("sha256").update(content).digest().subarray(0, 16);
  (document as unknown as { _id: Buffer })._id = identifier;
  for (const [name, file] of Object.entries(openFonts)) document.registerFont(name, file);
  const finished = async (): Promise<Uint8Array> => {
    document.end();
    await ended;
    return Buffer.concat(parts);
  };
  return { document, finished };
}

/** The library writes these texts into XMP as they are: letters with a meaning in XML are replaced, what XML cannot hold is left blank. */
function forMetadata(text: string): string {
  return text
    .replaceAll("&", "+")
    .replaceAll("<", "‹")
    .replaceAll(">", "›")
    .replace(/[\p{Cc}\p{Cs}\ufffe\uffff]/gu, " ");
}
