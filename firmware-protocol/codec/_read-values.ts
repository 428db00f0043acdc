const zero = 0x30;
const space = 0x20 - zero;
const minus = 0x2d - zero;

/**
 * Appends the integers of a list to `values` until the end of the line or the first that does not fit.
 *
 * Nine digits are enough for every list of the wire and keep the sum within a 31-bit integer, which is what makes this
 * loop quick: it reads most of the bytes of a shot.
 *
 * @returns where it stopped: `end`, or the space before the one that does not fit
 */
export function readValues(
  line: Uint8Array,
  from: number,
  end: number,
  min: number,
  max: number,
  values: number[],
): number {
  let at = from;
  while (at < end) {
    let i = at + 1;
    let digit = digitAt(line, i);
    const negative = digit === minus;
    if (negative) {
      i += 1;
      digit = digitAt(line, i);
    }
    const first = i;
    const leading = digit;
    let magnitude = 0;
    // Stops at the `*` of the line at the latest. More than nine digits may overflow, and are refused below.
    while (digit >= 0 && digit <= 9) {
      magnitude = (Math.imul(magnitude, 10) + digit) | 0;
      i += 1;
      digit = digitAt(line, i);
    }
    const digits = i - first;
    if (digits === 0 || digits > 9 || (digit !== space && i !== end)) return at;
    if (leading === 0 && (negative || digits > 1)) return at;
    const value = negative ? -magnitude : magnitude;
    if (value < min || value > max) return at;
    values.push(value);
    at = i;
  }
  return at;
}

/** The byte at `i` as a digit: 0 to 9 for a digit, anything else for any other byte. */
const digitAt = (line: Uint8Array, i: number) => (line[i] as number) - zero;
