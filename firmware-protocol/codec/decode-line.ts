import { longestLineBytes, type Message } from "../messages.ts";
import { hexWord, shown } from "./_ascii.ts";
import { grammarFault } from "./_grammar-fault.ts";
import { holdsAt, type MessageRule, presenceOf, ruleAt } from "./_message-rules.ts";
import { readField } from "./_read-field.ts";
import { crc16 } from "./crc16.ts";

/**
 * Why a line was refused: the first of these that applies to it. The first four say that the line was damaged on its
 * way, the last three that its sender built it wrongly or speaks another wire.
 */
export const lineFaults = [
  "too-long",
  "not-ascii",
  "no-check",
  "frame-crc",
  "grammar",
  "unknown-message",
  "bad-field",
] as const;
export type LineFault = (typeof lineFaults)[number];

/** A line refused. `sequence` is given only if the CRC held and the number could be read. */
export type RefusedLine = { ok: false; code: LineFault; detail: string; sequence: number | null };
/** What a line says, or why it says nothing. */
export type DecodedLine = { ok: true; sequence: number; message: Message } | RefusedLine;

const space = 0x20;
const asterisk = 0x2a;
const minus = 0x2d;
const zero = 0x30;
/** Length of `*` and four digits. */
const checkLength = 5;
/** Where the verb begins: after four digits and a space. */
const verbStart = 5;

/**
 * Decodes one line, given without its LF. Never throws, whatever the bytes.
 *
 * Nothing in the line is believed before its CRC has held. Every message has exactly one written form, so that encoding
 * what was decoded gives the same bytes again.
 */
export function decodeLine(line: Uint8Array): DecodedLine {
  if (line.length >= longestLineBytes)
    return {
      ok: false,
      code: "too-long",
      detail: `${line.length + 1} bytes with LF, accepted: at most ${longestLineBytes}`,
      sequence: null,
    };
  const end = line.length - checkLength;
  const check = line[end] === asterisk ? hexWord(line, end + 1) : -1;
  if (check === -1)
    return refusedBeforeCheck(line, "no-check", "the line does not end in * and four digits 0-9 A-F");
  const crc = crc16(line, 0, end);
  if (crc !== check)
    return refusedBeforeCheck(line, "frame-crc", `the bytes give ${hex(crc)}, the line says ${hex(check)}`);

  const sequence = hexWord(line, 0);
  const verbEnd = tokenEnd(line, verbStart, end);
  const rule = ruleAt(line, verbStart, verbEnd);
  if (sequence === -1 || line[4] !== space || rule === undefined)
    return refused(line, "unknown-message", `found ${shown(line, verbStart, verbEnd)}`);
  return readBody(rule, line, verbEnd, end, sequence);
}

/** Reads the fields and the values; `from` is where the space before the first of them stands. */
function readBody(
  rule: MessageRule,
  line: Uint8Array,
  from: number,
  end: number,
  sequence: number,
): DecodedLine {
  const message: Record<string, unknown> = { verb: rule.verb };
  let at = from;
  for (const field of rule.fields) {
    const presence = presenceOf(field, message);
    if (presence === "refused") continue;
    if (at === end || !holdsAt(line, at + 1, field.key)) {
      if (presence === "required") return refusedAt(line, at, end, rule, `${field.name}=...`);
      continue;
    }
    const start = at + 1 + field.key.length;
    const stop = tokenEnd(line, start, end);
    const value = readField(field, line, start, stop);
    if (typeof value === "object")
      return refused(line, "bad-field", `${rule.verb} ${field.name}: ${value.misfit}`);
    message[field.name] = value;
    at = stop;
  }
  if (rule.values !== null) {
    const { min, max } = rule.values;
    const values: number[] = [];
    at = readValues(line, at, end, min, max, values);
    if (at < end || values.length === 0)
      return refusedAt(line, at, end, rule, `integers from ${min} to ${max} without leading zeros`);
    message.values = values;
  }
  if (at < end) return refusedAt(line, at, end, rule, "nothing more");
  return { ok: true, sequence, message: message as Message };
}

/**
 * Appends the integers of a list to `values` until the end of the line or the first that does not fit.
 *
 * Nine digits are enough for every list of the wire and keep the sum within a 31-bit integer, which is what makes this
 * loop quick: it reads most of the bytes of a shot.
 *
 * @returns where it stopped: `end`, or the space before the one that does not fit
 */
function readValues(
  line: Uint8Array,
  from: number,
  end: number,
  min: number,
  max: number,
  values: number[],
): number {
  let at = from;
  while (at < end) {
    const negative = line[at + 1] === minus;
    const first = negative ? at + 2 : at + 1;
    let i = first;
    let magnitude = 0;
    // Stops at the `*` of the line at the latest. More than nine digits may overflow, and are refused below.
    for (let digit = digitAt(line, i); digit >= 0 && digit <= 9; digit = digitAt(line, i)) {
      magnitude = (Math.imul(magnitude, 10) + digit) | 0;
      i += 1;
    }
    const digits = i - first;
    const leadingZero = line[first] === zero && (negative || digits > 1);
    if (digits === 0 || digits > 9 || leadingZero || (i < end && line[i] !== space)) return at;
    const value = negative ? -magnitude : magnitude;
    if (value < min || value > max) return at;
    values.push(value);
    at = i;
  }
  return at;
}

const digitAt = (line: Uint8Array, i: number) => (line[i] as number) - zero;

/** Position of the first space from `start` on, or `end`. */
function tokenEnd(line: Uint8Array, start: number, end: number): number {
  let i = start;
  while (i < end && line[i] !== space) i += 1;
  return i;
}

const hex = (word: number) => word.toString(16).toUpperCase().padStart(4, "0");

/** Refuses what stands after the space at `at`. */
function refusedAt(
  line: Uint8Array,
  at: number,
  end: number,
  rule: MessageRule,
  wanted: string,
): RefusedLine {
  const found = at < end ? shown(line, at + 1, tokenEnd(line, at + 1, end)) : "the end of the line";
  return refused(line, "bad-field", `${rule.verb}, byte ${at}: found ${found}, accepted: ${wanted}`);
}

/** Refuses a line whose CRC held. A fault of the grammar is told before a fault of the content. */
function refused(line: Uint8Array, code: LineFault, detail: string): RefusedLine {
  const foreign = foreignByte(line);
  if (foreign !== null) return { ok: false, code: "not-ascii", detail: foreign, sequence: null };
  const fault = grammarFault(line, line.length - checkLength);
  const sequence = hexWord(line, 0);
  return {
    ok: false,
    code: fault === null ? code : "grammar",
    detail: fault ?? detail,
    sequence: sequence === -1 || line[4] !== space ? null : sequence,
  };
}

/** Refuses a line whose CRC is missing or wrong. */
function refusedBeforeCheck(line: Uint8Array, code: LineFault, detail: string): RefusedLine {
  const foreign = foreignByte(line);
  return {
    ok: false,
    code: foreign === null ? code : "not-ascii",
    detail: foreign ?? detail,
    sequence: null,
  };
}

/** The first byte that no line may hold, in words. A CR is one of them. */
function foreignByte(line: Uint8Array): string | null {
  for (let i = 0; i < line.length; i += 1) {
    const byte = line[i] as number;
    if (byte < 0x20 || byte > 0x7e)
      return `byte ${i}: found ${shown(line, i, i + 1)}, accepted: printable ASCII, \\x20 to \\x7E`;
  }
  return null;
}
