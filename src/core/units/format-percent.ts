/**
 * A rate for a reader, as a percentage with so many significant digits: `37.5 %`, `0.12 %`, `0 %`, `100 %`. A rate below 1 never
 * reads as 100 %.
 *
 * @param rate from 0 to 1
 * @throws RangeError if it is outside
 */
export function formatPercent(rate: number, significantDigits = 3): string {
  if (!(rate >= 0 && rate <= 1)) throw new RangeError(`expected a rate from 0 to 1 but found ${rate}`);
  const percent = 100 * rate;
  const rounded = Number(percent.toPrecision(significantDigits));
  if (rounded === 100 && rate < 1) return `above ${100 - 10 ** (2 - significantDigits)} %`;
  return rounded !== 0 && rounded < 1e-6 ? "below 0.000001 %" : `${rounded} %`;
}
