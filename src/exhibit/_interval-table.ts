import { type ScaleLinear, scaleLinear } from "d3-scale";
import { bottomAxis, type Frame, line, type Tick } from "./_axis.ts";
import { ink } from "./_ink.ts";
import { arrow, bar } from "./_marks.ts";
import { labelLines, textLine } from "./_text.ts";
import { percentWords } from "./_ticks.ts";

/** A rate with its bounds, from 0 to 1. */
export interface Rate {
  estimate: number;
  lower: number;
  upper: number;
}

/** Places of the columns of a table with intervals, in pixels; the plot stands between the counts and the words. */
export const columns = {
  label: 16,
  counts: 340,
  plotLeft: 362,
  plotRight: 650,
  words: 672,
  weight: 884,
} as const;

/** Width of a figure with such a table. */
export const tableWidth = 900;

/** Height of a row. */
export const rowHeight = 24;

/**
 * Refuses what is no rate with bounds around it.
 *
 * @throws RangeError naming the row
 */
export function checkRate(name: string, { estimate, lower, upper }: Rate): void {
  if (!(lower >= 0 && lower <= estimate && estimate <= upper && upper <= 1)) {
    throw new RangeError(
      `${name}: expected 0 <= lower <= estimate <= upper <= 1 but found ${lower}, ${estimate}, ${upper}`,
    );
  }
}

/** A linear axis of rates from 0 to a round number at or above the largest. */
export function rateScale(largest: number): ScaleLinear<number, number> {
  const top = [0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8].find((end) => largest <= end) ?? 1;
  return scaleLinear().domain([0, top]).range([columns.plotLeft, columns.plotRight]);
}

/** Axis under the plot column. */
export function rateAxis(scale: ScaleLinear<number, number>, frame: Frame, title: string): string[] {
  const ticks: Tick[] = scale.ticks(5).map((value) => ({ at: scale(value), label: percentWords(value) }));
  return bottomAxis(frame, ticks, title);
}

/** Names above the columns with a rule below them. `y` is the base line. */
export function columnHeads(
  y: number,
  names: { label: string; counts: string; words: string; weight?: string },
): string[] {
  const style = { size: 11, fill: ink.soft } as const;
  return [
    textLine(columns.label, y, names.label, style),
    textLine(columns.counts, y, names.counts, { ...style, anchor: "end" }),
    textLine(columns.words, y, names.words, style),
    textLine(columns.weight, y, names.weight ?? "", { ...style, anchor: "end" }),
    line([columns.label, y + 7], [columns.weight, y + 7]),
  ];
}

/** Words of one row: its label, `k of n` and the estimate with its interval. `y` is the middle of the row. */
export function rowWords(y: number, row: Rate & { label: string; counts: string; bold?: boolean }): string[] {
  const bold = row.bold ?? false;
  return [
    ...labelLines(columns.label, y, row.label, columns.counts - columns.label - 80, bold),
    textLine(columns.counts, y + 4, row.counts, { anchor: "end" }),
    textLine(columns.words, y + 4, rateWords(row), { bold }),
  ];
}

/** An estimate with its interval: `12.5 % (4.2 % to 26.8 %)`. */
export function rateWords({ estimate, lower, upper }: Rate): string {
  return `${rateText(estimate)} (${rateText(lower)} to ${rateText(upper)})`;
}

/** A rate with one decimal, so that a column of them is even; two below one percent, none where it is exact. */
export function rateText(rate: number): string {
  if (rate === 0 || rate === 1) return `${rate * 100} %`;
  return `${(rate * 100).toFixed(rate < 0.00995 ? 2 : 1)} %`;
}

/** The interval as a bar with caps; an end beyond the axis is an arrow. */
export function rateBar(
  scale: ScaleLinear<number, number>,
  y: number,
  { lower, upper }: Omit<Rate, "estimate">,
): string {
  const right = scale.range()[1] as number;
  const [from, to] = [scale(lower), scale(upper)];
  if (to > right + 0.01) return bar([from, y], [right - 8, y], 0) + arrow(right - 8, y, "right", 8);
  return bar([from, y], [to, y]);
}
