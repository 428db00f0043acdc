import type { ForestData } from "../contract/figures.ts";
import { line } from "./_axis.ts";
import { ink } from "./_ink.ts";
import {
  checkRate,
  columnHeads,
  columns,
  rateAxis,
  rateBar,
  rateScale,
  rateText,
  rateWords,
  rowHeight,
  rowWords,
  tableWidth,
} from "./_interval-table.ts";
import { mark } from "./_marks.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { element, pointList, svgDocument } from "./_svg.ts";
import { textLine } from "./_text.ts";
import { percentWords } from "./_ticks.ts";

/** Half width of the square of a study that carries all the weight; the area is in proportion to the weight. */
const largestSquare = 11;

/**
 * Forest plot as SVG: a row for each study with its counts, its interval and a square whose area is its weight, then the pooled
 * rate as a diamond and the prediction interval as a broad bar. Axis in percent. Studies with another criterion carry a dagger.
 *
 * @throws RangeError if there is no study, or a rate lies outside 0 to 1 or outside its own bounds
 */
export function forestFigure(data: ForestData): string {
  if (data.rows.length === 0) throw new RangeError("a forest plot needs at least one study but has none");
  for (const row of data.rows) checkRate(row.label, row);
  const { pooled, prediction } = data;
  if (pooled !== null) checkRate(pooled.label, pooled);
  if (prediction !== null) checkRate("prediction interval", { ...prediction, estimate: prediction.lower });

  const head = heading(data.title, data.criterion, columns.label, tableWidth - 32);
  const top = head.height + 36;
  const summaries = (pooled === null ? 0 : 1) + (prediction === null ? 0 : 1);
  const bottom = top + (data.rows.length + summaries) * rowHeight + (summaries > 0 ? 10 : 4);
  const scale = rateScale(
    Math.max(...data.rows.map(({ upper }) => upper), pooled?.upper ?? 0, prediction?.upper ?? 0),
  );
  const frame = { left: columns.plotLeft, right: columns.plotRight, top, bottom };
  const notes = noteBlock(notesOf(data), columns.label, bottom + 46, tableWidth - 32);

  const middle = (index: number) => top + (index + 0.5) * rowHeight;
  const summaryMiddle = (index: number) => middle(data.rows.length + index) + 6;
  const parts = [
    ...head.markup,
    ...columnHeads(top - 10, {
      label: "study",
      counts: "failed of tested",
      words: "failed (interval)",
      weight: "weight",
    }),
    ...rateAxis(scale, frame, "failed, percent of those tested"),
    pooled === null
      ? ""
      : line([scale(pooled.estimate), top], [scale(pooled.estimate), bottom], { dash: "3 3" }),
    ...data.rows.flatMap((row, i) => [
      ...rowWords(middle(i), {
        ...row,
        label: row.marked ? `${row.label} †` : row.label,
        counts: `${row.k} of ${row.n}`,
      }),
      textLine(columns.weight, middle(i) + 4, row.weight === null ? "none" : percentWords(row.weight), {
        anchor: "end",
      }),
      rateBar(scale, middle(i), row),
      row.weight === null
        ? mark("ring", scale(row.estimate), middle(i), 4)
        : mark("square", scale(row.estimate), middle(i), Math.max(2, largestSquare * Math.sqrt(row.weight))),
    ]),
  ];
  if (summaries > 0)
    parts.push(line([columns.label, summaryMiddle(0) - 15], [columns.weight, summaryMiddle(0) - 15]));
  if (pooled !== null) {
    parts.push(
      ...rowWords(summaryMiddle(0), { ...pooled, counts: "", bold: true }),
      diamond(scale, summaryMiddle(0), pooled),
    );
  }
  if (prediction !== null) {
    const y = summaryMiddle(pooled === null ? 0 : 1);
    parts.push(
      textLine(columns.label, y + 4, "prediction interval"),
      textLine(columns.words, y + 4, `${rateText(prediction.lower)} to ${rateText(prediction.upper)}`),
      element("rect", {
        x: scale(prediction.lower),
        y: y - 4,
        width: Math.max(1, scale(prediction.upper) - scale(prediction.lower)),
        height: 8,
        fill: ink.hatch,
        stroke: ink.mark,
      }),
    );
  }
  return svgDocument(
    { width: tableWidth, height: bottom + 46 + notes.height + 8 },
    { title: data.title, description: forestWords(data) },
    [...parts, ...notes.markup],
  );
}

function diamond(
  scale: (value: number) => number,
  y: number,
  { estimate, lower, upper }: NonNullable<ForestData["pooled"]>,
): string {
  const corners = pointList([
    [scale(lower), y],
    [scale(estimate), y - 8],
    [scale(upper), y],
    [scale(estimate), y + 8],
  ]);
  return element("polygon", { points: corners, fill: ink.mark, stroke: ink.mark, "stroke-width": 1 });
}

function notesOf(data: ForestData): string[] {
  const marks = ["Squares: area in proportion to weight. Bars: interval of each study."];
  if (data.rows.some(({ weight }) => weight === null)) marks.push("Open circle: not in the pool.");
  if (data.pooled !== null) marks.push("Diamond and dashed line: pooled.");
  if (data.prediction !== null) marks.push("Grey bar: where the rate of a further study like these may lie.");
  const dagger = data.rows.some(({ marked }) => marked)
    ? ["† counted by another criterion than the first study."]
    : [];
  return [marks.join(" "), ...dagger, ...data.notes];
}

/** The forest plot in words, for readers who hear it. */
export function forestWords(data: ForestData): string {
  const rows = data.rows.map((row) => `${row.label}: ${row.k} of ${row.n}, ${rateWords(row)}.`);
  const pooled =
    data.pooled === null ? "No pooled rate." : `${data.pooled.label}: ${rateWords(data.pooled)}.`;
  const prediction =
    data.prediction === null
      ? ""
      : ` Prediction interval ${rateText(data.prediction.lower)} to ${rateText(data.prediction.upper)}.`;
  return `Forest plot, ${data.criterion}. ${rows.join(" ")} ${pooled}${prediction}`;
}
