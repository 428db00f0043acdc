import type { Message } from "../messages.ts";
import { shown } from "./_ascii.ts";
import { holdsAt, type MessageRule, presenceOf } from "./_message-rules.ts";
import { readField } from "./_read-field.ts";
import { readValues } from "./_read-values.ts";

const space = 0x20;

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
