/**
 * A current for a reader: `20 A`, `40.21 A`, `10.5 kA`. So many significant digits, trailing zeros dropped, kiloamperes
 * from 10 kA.
 *
 * @throws RangeError if `amps` is not finite
 */
export function formatAmps(amps: number, significantDigits = 4): string {
  if (!Number.isFinite(amps)) throw new RangeError(`expected a finite current but found ${amps}`);
  const rounded = Number(amps.toPrecision(significantDigits));
  if (Math.abs(rounded) >= 10_000) return `${Number((amps / 1000).toPrecision(significantDigits))} kA`;
  // Below a microampere a current is the absence of one; JavaScript would print an exponent.
  return `${Math.abs(rounded) < 1e-6 ? 0 : rounded} A`;
}
