import type { RatesFigureData } from "../contract/figures.ts";
import {
  checkRate,
  columnHeads,
  columns,
  rateAxis,
  rateBar,
  rateScale,
  rateWords,
  rowHeight,
  rowWords,
  tableWidth,
} from "./_interval-table.ts";
import { mark } from "./_marks.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { svgDocument } from "./_svg.ts";

/**
 * Rates by stratum as SVG: a row for each with k of n, the estimate as a disc and its interval as a bar. Axis in percent.
 *
 * @throws RangeError if there is no row, or a rate lies outside 0 to 1 or outside its own bounds
 */
export function ratesFigure(data: RatesFigureData): string {
  if (data.rows.length === 0) throw new RangeError("a figure of rates needs at least one row but has none");
  for (const row of data.rows) checkRate(row.label, row);
  const head = heading(data.title, data.criterion, columns.label, tableWidth - 32);
  const top = head.height + 36;
  const bottom = top + data.rows.length * rowHeight + 4;
  const scale = rateScale(Math.max(...data.rows.map(({ upper }) => upper)));
  const frame = { left: columns.plotLeft, right: columns.plotRight, top, bottom };
  const notes = noteBlock(
    ["Discs: failed of tested. Bars: interval.", ...data.notes],
    columns.label,
    bottom + 46,
    tableWidth - 32,
  );
  const middle = (index: number) => top + (index + 0.5) * rowHeight;
  return svgDocument(
    { width: tableWidth, height: bottom + 46 + notes.height + 8 },
    { title: data.title, description: ratesWords(data) },
    [
      ...head.markup,
      ...columnHeads(top - 10, { label: "stratum", counts: "failed of tested", words: "failed (interval)" }),
      ...rateAxis(scale, frame, "failed, percent of those tested"),
      ...data.rows.flatMap((row, i) => [
        ...rowWords(middle(i), { ...row, counts: `${row.k} of ${row.n}` }),
        rateBar(scale, middle(i), row),
        mark("disc", scale(row.estimate), middle(i), 5),
      ]),
      ...notes.markup,
    ],
  );
}

/** The figure of rates in words, for readers who hear it. */
export function ratesWords(data: RatesFigureData): string {
  const rows = data.rows.map((row) => `${row.label}: ${row.k} of ${row.n}, ${rateWords(row)}.`);
  return `Rates by stratum, ${data.criterion}. ${rows.join(" ")}`;
}
