import { longestLineBytes, type Message } from "../messages.ts";
import { presenceOf, ruleNamed } from "./_message-rules.ts";
import { writeField, writeInteger } from "./_write-field.ts";
import { crc16 } from "./crc16.ts";
import { sequenceModulus } from "./sequence.ts";

const hexWord = (word: number) => word.toString(16).toUpperCase().padStart(4, "0");

/**
 * The line of a message, LF included, as it goes over the wire.
 *
 * @param sequence the sender's sequence number of this line, 0 to 65535
 * @throws TypeError for a verb, a field or a type that the wire does not have, or a field that is missing or out of
 *   place; RangeError for a value outside what its field accepts, or a line longer than 128 bytes
 */
export function encodeLine(sequence: number, message: Message): Uint8Array {
  if (!Number.isInteger(sequence) || sequence < 0 || sequence >= sequenceModulus)
    throw new RangeError(`sequence must be an integer from 0 to 65535, found ${sequence}`);
  const text = `${hexWord(sequence)} ${message.verb}${writtenBody(message)}`;
  const length = text.length + 6;
  if (length > longestLineBytes)
    throw new RangeError(
      `the ${message.verb} line takes ${length} bytes; at most ${longestLineBytes} are accepted`,
    );
  const line = new Uint8Array(length);
  for (let i = 0; i < text.length; i += 1) line[i] = text.charCodeAt(i);
  const tail = `*${hexWord(crc16(line, 0, text.length))}\n`;
  for (let i = 0; i < tail.length; i += 1) line[text.length + i] = tail.charCodeAt(i);
  return line;
}

function writtenBody(message: Message): string {
  const { verb, ...given } = message as Record<string, unknown> & { verb: string };
  const rule = ruleNamed(verb);
  if (rule === undefined) throw new TypeError(`the wire has no message "${verb}"`);
  let body = "";
  const open = new Set(Object.keys(given).filter((name) => given[name] !== undefined));
  for (const field of rule.fields) {
    const presence = presenceOf(field, given);
    const present = open.delete(field.name);
    if (present && presence === "refused")
      throw new TypeError(`${verb} has no place for ${field.name} here: ${field.about}`);
    if (!present && presence === "required")
      throw new TypeError(`${verb} needs ${field.name}: ${field.about}`);
    if (present) body += ` ${field.name}=${writeField(field, given[field.name])}`;
  }
  if (rule.values !== null) {
    open.delete("values");
    const { min, max } = rule.values;
    const values = given.values;
    if (!Array.isArray(values) || values.length === 0)
      throw new TypeError(`${verb} needs at least one value`);
    for (const value of values) body += ` ${writeInteger("value", value, min, max)}`;
  }
  if (open.size > 0) throw new TypeError(`${verb} has no field ${[...open].join(", ")}`);
  return body;
}
