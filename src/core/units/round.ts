/**
 * `value` rounded to so many decimal places, halves away from zero as far as binary numbers can hold them.
 *
 * Results that are stored are rounded, so that the last bits of a sum or a logarithm, in which machines may differ, never
 * reach the bytes.
 *
 * @throws RangeError if `value` is not finite
 */
export function roundDecimals(value: number, decimals: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`expected a finite number to round but found ${value}`);
  return withoutNegativeZero(Number(value.toFixed(decimals)));
}

/**
 * `value` rounded to so many significant digits.
 *
 * @throws RangeError if `value` is not finite
 */
export function roundSignificant(value: number, digits = 12): number {
  if (!Number.isFinite(value)) throw new RangeError(`expected a finite number to round but found ${value}`);
  return withoutNegativeZero(Number(value.toPrecision(digits)));
}

const withoutNegativeZero = (value: number) => (value === 0 ? 0 : value);
