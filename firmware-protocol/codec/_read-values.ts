const space = 0x20;
const minus = 0x2d;
const zero = 0x30;

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
