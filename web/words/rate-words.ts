import { formatPercent } from "../../src/core/units/format-percent.ts";

/** A rate in percent, or that it is not estimable. */
export function rateWords(rate: number | null): string {
  return rate === null ? "not estimable" : formatPercent(rate);
}

/** An interval of a rate in percent, or that it is not estimable. */
export function rangeWords(interval: { lower: number; upper: number } | null): string {
  return interval === null
    ? "not estimable"
    : `${formatPercent(interval.lower)} to ${formatPercent(interval.upper)}`;
}

/** A plain figure with three significant digits, or that it is not estimable. */
export function figureWords(value: number | null): string {
  return value === null ? "not estimable" : Number(value.toPrecision(3)).toString();
}
