import type { Message } from "../messages.ts";
import { shown } from "./_ascii.ts";
import { holdsAt, type MessageRule, presenceOf } from "./_message-rules.ts";
import { readField } from "./_read-field.ts";

const space = 0x20;
const minus = 0x2d;
const zero = 0x30;

/**
 * Reads the fields and the values of a message.
 *
 * @param rule the message's rule
 * @param line bytes of which `line[end]` is the `*` of the check
 * @param from where the space before the first field stands, or `end`
 * @returns the message, or its first fault in words
 */
export function readBody(rule: MessageRule, line: Uint8Array, from: number, end: number): Message | string {
  const message: Record<string, unknown> = { verb: rule.verb };
  let at = from;
  for (const field of rule.fields) {
    const presence = presenceOf(field, message);
    if (presence === "refused") continue;
    if (at === end || !holdsAt(line, at + 1, field.key)) {
      if (presence === "required") return found(line, at, end, `${field.name}=...`);
      continue;
    }
    const start = at + 1 + field.key.length;
    if (field.type === "integer") {
      // The quick way for what nearly every field is: up to fifteen digits, which a double holds exactly.
      let i = start;
      let value = 0;
      for (let digit = digitAt(line, i); digit >= 0 && digit <= 9; digit = digitAt(line, i)) {
        value = value * 10 + digit;
        i += 1;
      }
      const digits = i - start;
      const written = digits > 0 && digits < 16 && (line[start] !== zero || digits === 1);
      if (written && (i === end || line[i] === space) && value >= field.min && value <= field.max) {
        message[field.name] = value;
        at = i;
        continue;
      }
    }
    const stop = tokenEnd(line, start, end);
    const value = readField(field, line, start, stop);
    if (typeof value === "object") return `${field.name}: ${value.misfit}`;
    message[field.name] = value;
    at = stop;
  }
  if (rule.values !== null) {
    const { min, max } = rule.values;
    const values: number[] = [];
    at = readValues(line, at, end, min, max, values);
    if (at < end || values.length === 0)
      return found(line, at, end, `integers from ${min} to ${max} without leading zeros`);
    message.values = values;
  }
  if (at < end) return found(line, at, end, "nothing more");
  return message as Message;
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

/** What stands after the space at `at`, and what should. */
function found(line: Uint8Array, at: number, end: number, accepted: string): string {
  const token = at < end ? shown(line, at + 1, tokenEnd(line, at + 1, end)) : "the end of the line";
  return `found ${token}, accepted: ${accepted}`;
}
