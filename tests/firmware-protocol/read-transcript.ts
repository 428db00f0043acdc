import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** One line of a transcript with what it means, or how it must be refused. */
export type TranscriptLine = {
  where: string;
  bytes: Uint8Array;
  meaning: { sequence: number; verb: string; [field: string]: unknown } | null;
  refusal: { code: string; sequence: number | null } | null;
};
/** The CRC of some bytes. */
export type CrcVector = { where: string; bytes: Uint8Array; crc: number };

const folder = join(import.meta.dirname, "../../firmware-protocol/transcripts");

/** Names of the transcripts. */
export const transcriptNames: readonly string[] = readdirSync(folder).filter((name) => name.endsWith(".txt"));

/** The bytes that a transcript shows, `\xHH` for what cannot be printed. */
export function bytesShown(text: string): Uint8Array {
  const characters = text.replace(/\\x([0-9A-F]{2})/g, (_, hex) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
  return Uint8Array.from(characters, (character) => character.charCodeAt(0));
}

/** Reads a transcript. @throws Error where it does not keep to its own format */
export function readTranscript(name: string): { lines: TranscriptLine[]; vectors: CrcVector[] } {
  const rows = readFileSync(join(folder, name), "latin1").split("\n");
  const lines: TranscriptLine[] = [];
  const vectors: CrcVector[] = [];
  rows.forEach((row, index) => {
    const where = `${name}:${index + 1}`;
    const content = row.slice(2);
    const open = lines.at(-1);
    const answered = open === undefined || open.meaning !== null || open.refusal !== null;
    if (/[^\x20-\x7e]/.test(row)) throw new Error(`${where}: not printable ASCII`);
    if (row === "" || row.startsWith("#")) return;
    if (row.startsWith("> ") || row.startsWith("< ")) {
      if (!answered) throw new Error(`${where}: the line before is not explained`);
      lines.push({ where, bytes: bytesShown(content), meaning: null, refusal: null });
    } else if (row.startsWith("= ") && !answered) open.meaning = JSON.parse(content);
    else if (row.startsWith("! ") && !answered) {
      const [, code = "", number = ""] = /^([a-z-]+) (-|[0-9A-F]{4})$/.exec(content) ?? [];
      open.refusal = { code, sequence: number === "-" ? null : Number.parseInt(number, 16) };
    } else if (/^\$ [0-9A-F]{4} \|.*\|$/.test(row))
      vectors.push({ where, bytes: bytesShown(row.slice(8, -1)), crc: Number.parseInt(row.slice(2, 6), 16) });
    else throw new Error(`${where}: found ${JSON.stringify(row)}`);
  });
  return { lines, vectors };
}
