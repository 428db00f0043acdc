import { longestLineBytes, type Message, messages } from "../messages.ts";
import { hexWord } from "./_ascii.ts";
import { damageOf } from "./_damage-of.ts";
import { grammarFault } from "./_grammar-fault.ts";
import { ruleAt } from "./_message-rules.ts";
import { readBody } from "./_read-body.ts";
import { readSample } from "./_read-sample.ts";
import { crc16 } from "./crc16.ts";
import type { LineFault } from "./line-faults.ts";

/** A line refused. `sequence` is given only if the CRC held and the number could be read. */
export type RefusedLine = { ok: false; code: LineFault; detail: string; sequence: number | null };
/** What a line says, or why it says nothing. */
export type DecodedLine = { ok: true; sequence: number; message: Message } | RefusedLine;

const space = 0x20;
const asterisk = 0x2a;
/** Length of `*` and four digits. */
const checkLength = 5;
/** Where the verb begins: after four digits and a space. */
const verbStart = 5;

/**
 * Decodes one line, given without its LF: all of `bytes`, or what stands from `start` up to `stop`. Never throws for
 * what a line holds, whatever the bytes.
 *
 * Nothing in the line is believed before its CRC has held. Every message has exactly one written form, so that encoding
 * what was decoded gives the same bytes again.
 *
 * @throws RangeError if start and stop do not lie in order within the bytes
 */
export function decodeLine(bytes: Uint8Array, start = 0, stop = bytes.length): DecodedLine {
  if (!(start >= 0 && start <= stop && stop <= bytes.length))
    throw new RangeError(`decodeLine needs 0 <= start <= stop <= ${bytes.length}, found ${start}, ${stop}`);
  const end = stop - checkLength;
  if (stop - start >= longestLineBytes || end < start || bytes[end] !== asterisk)
    return refused(bytes.subarray(start, stop));
  if (crc16(bytes, start, end) !== hexWord(bytes, end + 1)) return refused(bytes.subarray(start, stop));
  const sequence = hexWord(bytes, start);
  const sample = readSample(bytes, start + verbStart - 1, end);
  if (sample !== undefined && sequence !== -1) return { ok: true, sequence, message: sample };
  const rule = ruleAt(bytes, start + verbStart, end);
  if (rule === undefined || sequence === -1 || bytes[start + verbStart - 1] !== space)
    return refused(bytes.subarray(start, stop));
  const message = readBody(rule, bytes, start + verbStart + rule.verbBytes.length, end);
  if (typeof message === "string") return refused(bytes.subarray(start, stop), `${rule.verb} ${message}`);
  return { ok: true, sequence, message };
}

/** The first fault that applies to a line of which it is known that one does. */
function refused(line: Uint8Array, contentFault?: string): RefusedLine {
  const damage = damageOf(line);
  if (damage !== null) return { ok: false, ...damage, sequence: null };
  const number = line[verbStart - 1] === space ? hexWord(line, 0) : -1;
  const sequence = number === -1 ? null : number;
  const grammar = grammarFault(line, line.length - checkLength);
  if (grammar !== null) return { ok: false, code: "grammar", detail: grammar, sequence };
  if (contentFault !== undefined) return { ok: false, code: "bad-field", detail: contentFault, sequence };
  const verb = String.fromCharCode(...line.subarray(verbStart)).split(/[ *]/, 1)[0];
  return {
    ok: false,
    code: "unknown-message",
    detail: `found ${verb}, accepted: ${Object.keys(messages).join(", ")}`,
    sequence,
  };
}
