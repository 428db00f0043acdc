import { hexDigit, isPlainText, shown } from "./_ascii.ts";
import { type FieldRule, holdsAt } from "./_message-rules.ts";

/** Why the bytes of a field are not a value of it. */
export type Misfit = { misfit: string };

/**
 * The value written in `bytes[start]` up to `bytes[end]`.
 *
 * Every value has exactly one written form: no leading zeros, no plus sign, no minus zero, upper-case hexadecimal
 * digits, and no `%HH` for a byte that may stand for itself. Any other form is a misfit.
 */
export function readField(
  rule: FieldRule,
  bytes: Uint8Array,
  start: number,
  end: number,
): number | string | Misfit {
  switch (rule.type) {
    case "integer":
      return readInteger(bytes, start, end, rule.min, rule.max);
    case "choice": {
      for (const { word, bytes: expected } of rule.words)
        if (expected.length === end - start && holdsAt(bytes, start, expected)) return word;
      return {
        misfit: `found ${shown(bytes, start, end)}, accepted: ${rule.words.map(({ word }) => word).join(", ")}`,
      };
    }
    case "hex": {
      let right = end - start === rule.digits;
      for (let i = start; i < end; i += 1) right &&= hexDigit(bytes[i] as number) !== -1;
      if (right) return String.fromCharCode(...bytes.subarray(start, end));
      return {
        misfit: `found ${shown(bytes, start, end)}, accepted: ${rule.digits} digits 0-9 A-F`,
      };
    }
    case "text":
      return readText(bytes, start, end);
  }
}

/** The decimal integer in `bytes[start]` up to `bytes[end]`, which must lie from `min` to `max`. */
function readInteger(
  bytes: Uint8Array,
  start: number,
  end: number,
  min: number,
  max: number,
): number | Misfit {
  const negative = bytes[start] === 0x2d;
  const first = negative ? start + 1 : start;
  let magnitude = 0;
  let written = first < end && (bytes[first] !== 0x30 || (end - first === 1 && !negative));
  for (let i = first; i < end; i += 1) {
    const digit = (bytes[i] as number) - 0x30;
    if (digit < 0 || digit > 9) written = false;
    magnitude = magnitude * 10 + digit;
  }
  const value = negative ? -magnitude : magnitude;
  // Rounding of a magnitude above 2^53 cannot bring it back into a range that ends at or below 2^53 - 1.
  if (written && value >= min && value <= max) return value;
  return {
    misfit: `found ${shown(bytes, start, end)}, accepted: an integer from ${min} to ${max} without leading zeros`,
  };
}

function readText(bytes: Uint8Array, start: number, end: number): string | Misfit {
  let escaped = false;
  for (let i = start; i < end; i += 1) {
    const byte = bytes[i] as number;
    if (isPlainText(byte)) continue;
    const high = i + 2 < end ? hexDigit(bytes[i + 1] as number) : -1;
    const low = i + 2 < end ? hexDigit(bytes[i + 2] as number) : -1;
    if (byte !== 0x25 || high === -1 || low === -1 || isPlainText(high * 16 + low))
      return {
        misfit: `found ${shown(bytes, i, Math.min(end, i + 3))}, accepted: printable ASCII except space % * =, and %HH for every other byte`,
      };
    escaped = true;
    i += 2;
  }
  const written = String.fromCharCode(...bytes.subarray(start, end));
  if (!escaped) return written;
  try {
    return decodeURIComponent(written);
  } catch {
    return { misfit: `found ${shown(bytes, start, end)}, whose %HH bytes are not UTF-8` };
  }
}
