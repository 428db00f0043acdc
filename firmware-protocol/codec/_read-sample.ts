import { type Message, messages } from "../messages.ts";
import { readValues } from "./_read-values.ts";

const { fields, values: list } = messages.SAMPLE;
const head = Uint8Array.from(" SAMPLE shot= t0= step=", (character) => character.charCodeAt(0));
/** Of all verbs, only SAMPLE and RAW have an A in this place. */
const secondLetter = 0x41;
const equals = 0x3d;
const zero = 0x30;

/**
 * The quick way through a SAMPLE line, which is what nearly all bytes of a shot are.
 *
 * Reads what `readBody` reads, in less time because the shape of the message is known beforehand. Gives up on anything
 * that is not plainly right, so that only `readBody` ever says what is wrong.
 *
 * @param line bytes of which `line[end]` is the `*` of the check
 * @param from where the space before the verb stands
 */
export function readSample(line: Uint8Array, from: number, end: number): Message | undefined {
  if (line[from + 2] !== secondLetter) return undefined;
  let at = from;
  let headAt = 0;
  let shot = 0;
  let t0 = 0;
  let step = 0;
  for (let field = 0; field < 3; field += 1) {
    for (; line[at] === head[headAt]; headAt += 1) if (line[at++] === equals) break;
    if (head[headAt] !== equals) return undefined;
    headAt += 1;
    const first = at;
    let number = 0;
    for (let digit = digitAt(line, at); digit >= 0 && digit <= 9; digit = digitAt(line, at)) {
      number = number * 10 + digit;
      at += 1;
    }
    const digits = at - first;
    if (digits === 0 || digits > 16 || (line[first] === zero && digits > 1)) return undefined;
    if (field === 0) shot = number;
    else if (field === 1) t0 = number;
    else step = number;
  }
  if (shot < fields.shot.min || shot > fields.shot.max || t0 > fields.t0.max) return undefined;
  if (step < fields.step.min || step > fields.step.max) return undefined;
  const values: number[] = [];
  if (readValues(line, at, end, list.min, list.max, values) < end || values.length === 0) return undefined;
  return { verb: "SAMPLE", shot, t0, step, values };
}

const digitAt = (line: Uint8Array, i: number) => (line[i] as number) - zero;
