import { isPlainText } from "./_ascii.ts";
import type { FieldRule } from "./_message-rules.ts";

/**
 * The written form of a field's value.
 *
 * @throws TypeError if the value is of another type than the field; RangeError if it lies outside what the field accepts
 */
export function writeField(rule: FieldRule, value: unknown): string {
  const { name, words, digits } = rule;
  if (rule.type === "integer") return writeInteger(name, value, rule.min, rule.max);
  if (typeof value !== "string") throw new TypeError(`${name} must be a string, found ${String(value)}`);
  switch (rule.type) {
    case "choice":
      if (!words.some(({ word }) => word === value))
        throw new RangeError(
          `${name} must be one of ${words.map(({ word }) => word).join(", ")}, found "${value}"`,
        );
      return value;
    case "hex":
      if (value.length !== digits || !/^[0-9A-F]*$/.test(value))
        throw new RangeError(`${name} must be ${digits} digits 0-9 A-F, found "${value}"`);
      return value;
    case "text":
      return writeText(name, value);
  }
}

/** The written form of an integer from `min` to `max`; errors as `writeField`. */
export function writeInteger(name: string, value: unknown, min: number, max: number): string {
  if (typeof value !== "number") throw new TypeError(`${name} must be a number, found ${String(value)}`);
  if (!Number.isSafeInteger(value) || value < min || value > max)
    throw new RangeError(`${name} must be an integer from ${min} to ${max}, found ${value}`);
  return String(value);
}

function writeText(name: string, value: string): string {
  let written = "";
  for (const character of value) {
    if (character.length === 1 && isPlainText(character.charCodeAt(0))) written += character;
    else if (character === "*") written += "%2A";
    else
      try {
        written += encodeURIComponent(character);
      } catch {
        throw new RangeError(`${name} must be well-formed Unicode, found half of a surrogate pair`);
      }
  }
  return written;
}
