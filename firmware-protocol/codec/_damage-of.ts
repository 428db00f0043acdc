import { longestLineBytes } from "../messages.ts";
import { hexWord, shown } from "./_ascii.ts";
import { crc16 } from "./crc16.ts";
import type { LineFault } from "./line-faults.ts";

const hex = (word: number) => word.toString(16).toUpperCase().padStart(4, "0");

/** The damage that a line, given without its LF, took on its way, or null if its CRC holds. */
export function damageOf(line: Uint8Array): { code: LineFault; detail: string } | null {
  if (line.length >= longestLineBytes)
    return {
      code: "too-long",
      detail: `found ${line.length + 1} bytes with LF, accepted: at most ${longestLineBytes}`,
    };
  const foreign = line.findIndex((byte) => byte < 0x20 || byte > 0x7e);
  if (foreign !== -1)
    return {
      code: "not-ascii",
      detail: `byte ${foreign}: found ${shown(line, foreign, foreign + 1)}, accepted: \\x20 to \\x7E`,
    };
  const end = line.length - 5;
  const check = line[end] === 0x2a ? hexWord(line, end + 1) : -1;
  if (check === -1)
    return {
      code: "no-check",
      detail: `found ${shown(line, Math.max(0, end), line.length)} at the end, accepted: * and four digits 0-9 A-F`,
    };
  const crc = crc16(line, 0, end);
  if (crc !== check)
    return { code: "frame-crc", detail: `the line says ${hex(check)}, its bytes give ${hex(crc)}` };
  return null;
}
