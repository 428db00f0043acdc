/**
 * A result with its expanded uncertainty, U to two significant digits and the value to the same place: `24.03 ± 0.61 s`.
 *
 * Source: JCGM 100:2008, 7.2.6 (at most two significant digits of U; value consistent with U). Halves are rounded away from
 * zero. Without uncertainty (`null` or 0) the value stands alone with six significant digits.
 *
 * @throws RangeError if `value` is not finite, or `uncertainty` is negative or not finite
 */
export function formatWithUncertainty(value: number, uncertainty: number | null, unit: string): string {
  if (!Number.isFinite(value)) throw new RangeError(`expected a finite value but found ${value}`);
  if (uncertainty !== null && !(uncertainty >= 0 && Number.isFinite(uncertainty))) {
    throw new RangeError(`expected an uncertainty of zero or more but found ${uncertainty}`);
  }
  if (uncertainty === null || uncertainty === 0) return `${Number(value.toPrecision(6))} ${unit}`;
  // 0.0996 rounds to 0.10: the place is that of the rounded U, not of U.
  const rounded = Number(uncertainty.toPrecision(2));
  const place = Math.floor(Math.log10(rounded) + 1e-12) - 1;
  return `${atPlace(value, place)} ± ${atPlace(rounded, place)} ${unit}`;
}

function atPlace(value: number, place: number): string {
  if (place <= 0) return value.toFixed(-place);
  const unit = 10 ** place;
  return String(Math.round(value / unit) * unit);
}
