import { execFileSync, spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";

/** A value in qpdf's JSON: names begin with `/`, texts with `u:` or `b:`, references read `12 0 R`. */
export type PdfValue = null | boolean | number | string | PdfValue[] | { [key: string]: PdfValue };
export type PdfDictionary = { [key: string]: PdfValue };

/** An object of a PDF: a value, or a stream with its data in base64, out of its compression. */
export interface PdfObject {
  value?: PdfValue;
  stream?: { dict: PdfDictionary; data: string };
}

/** The JSON document of qpdf, version 2: a head, then the objects by `obj:12 0 R`, and `trailer`. */
export interface PdfJson {
  qpdf: [object, Record<string, PdfObject>];
}

/** The objects of a file, read by qpdf; `raw` leaves streams, and what they say of their compression, as they are stored. */
export function pdfObjects(file: string, streams: "decoded" | "raw" = "decoded"): PdfJson {
  const level = streams === "raw" ? "none" : "generalized";
  const args = ["--json-output=2", "--json-stream-data=inline", `--decode-level=${level}`, file, "-"];
  return JSON.parse(execFileSync("qpdf", args, { encoding: "utf8", maxBuffer: 1e9 }));
}

/** Writes objects as a PDF; qpdf's warnings are let pass, for faults are planted so. */
export function writePdf(objects: PdfJson, file: string): void {
  writeFileSync(`${file}.json`, JSON.stringify(objects));
  const { status, stderr } = spawnSync("qpdf", [
    "--json-input",
    "--newline-before-endstream",
    `${file}.json`,
    file,
  ]);
  if (status !== 0 && status !== 3) throw new Error(`qpdf could not write ${file}: ${stderr}`);
}
