/*
 * A reader of codes of version 1 (21 modules a side) that hold letters of the alphanumeric set, written for the tests alone.
 *
 * Source: ISO/IEC 18004, from memory: function patterns, order of placement, masks, format information, alphanumeric mode.
 */

const side = 21;
const letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const masks: readonly ((row: number, column: number) => boolean)[] = [
  (i, j) => (i + j) % 2 === 0,
  (i) => i % 2 === 0,
  (_i, j) => j % 3 === 0,
  (i, j) => (i + j) % 3 === 0,
  (i, j) => (Math.floor(i / 2) + Math.floor(j / 3)) % 2 === 0,
  (i, j) => ((i * j) % 2) + ((i * j) % 3) === 0,
  (i, j) => (((i * j) % 2) + ((i * j) % 3)) % 2 === 0,
  (i, j) => (((i + j) % 2) + ((i * j) % 3)) % 2 === 0,
];

const isFunction = (row: number, column: number): boolean =>
  (row < 9 && column < 9) ||
  (row < 9 && column >= side - 8) ||
  (row >= side - 8 && column < 9) ||
  row === 6 ||
  column === 6;

/** The text of a code. @throws Error where a finder pattern is missing or the mode is another */
export function readCode(isDark: (row: number, column: number) => boolean): string {
  for (const [row, column] of [
    [0, 0],
    [0, side - 7],
    [side - 7, 0],
  ] as const)
    for (let i = 0; i < 7; i += 1)
      for (let j = 0; j < 7; j += 1) {
        const ring = Math.max(Math.abs(i - 3), Math.abs(j - 3));
        if (isDark(row + i, column + j) !== (ring !== 2)) throw new Error(`no finder at ${row}, ${column}`);
      }
  let format = 0;
  for (let column = 0; column < 5; column += 1) format = format * 2 + (isDark(8, column) ? 1 : 0);
  const mask = masks[(format ^ 0b10101) & 7];
  const bits: number[] = [];
  let upward = true;
  for (let right = side - 1; right > 0; right -= 2) {
    if (right === 6) right -= 1;
    for (let step = 0; step < side; step += 1) {
      const row = upward ? side - 1 - step : step;
      for (const column of [right, right - 1])
        if (!isFunction(row, column))
          bits.push(isDark(row, column) !== (mask?.(row, column) ?? false) ? 1 : 0);
    }
    upward = !upward;
  }
  let at = 0;
  const take = (count: number): number => {
    let value = 0;
    for (let i = 0; i < count; i += 1) value = value * 2 + (bits[at + i] ?? 0);
    at += count;
    return value;
  };
  const mode = take(4);
  if (mode !== 0b0010) throw new Error(`mode ${mode} is not alphanumeric`);
  let left = take(9);
  let text = "";
  for (; left >= 2; left -= 2) {
    const pair = take(11);
    text += `${letters[Math.floor(pair / 45)]}${letters[pair % 45]}`;
  }
  return left === 1 ? text + letters[take(6)] : text;
}
