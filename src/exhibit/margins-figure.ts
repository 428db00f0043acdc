import { scaleLog } from "d3-scale";
import type { MarginsData } from "../contract/figures.ts";
import { bottomAxis, line, roomyTicks } from "./_axis.ts";
import { ink } from "./_ink.ts";
import { boxAround, boxesAlong, placedLabels } from "./_labels.ts";
import { arrow } from "./_marks.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { svgDocument } from "./_svg.ts";
import { labelLines, textLine } from "./_text.ts";
import { percentWords, roundLogValues } from "./_ticks.ts";
import { glyphWords, verdictGlyph } from "./_verdict-glyph.ts";

type Point = MarginsData["points"][number];

const width = 800;
/** More names than these would hide the points. */
const mostNames = 16;

/**
 * Time over limit for each specimen as SVG: a strip for each stratum on a logarithmic axis, one glyph for each specimen, stacked
 * where they meet, and a line at the limit. Those that had not tripped when the current ended have an arrow onwards. Specimens
 * without a pass are named.
 *
 * @throws RangeError if there is no point, or a ratio is not positive and finite
 */
export function marginsFigure(data: MarginsData): string {
  if (data.points.length === 0)
    throw new RangeError("a figure of margins needs at least one point but has none");
  for (const { label, ratio } of data.points)
    if (!(ratio > 0 && Number.isFinite(ratio)))
      throw new RangeError(`${label}: expected a positive ratio of time to limit but found ${ratio}`);
  const head = heading(data.title, data.criterion, 16, width - 32);
  const strata = [...new Set(data.points.map(({ stratum }) => stratum))];
  const left = strata.length === 1 && strata[0] === "" ? 40 : 170;
  const ratios = data.points.map(({ ratio }) => ratio);
  const x = scaleLog()
    .domain([Math.min(0.5, Math.min(...ratios) / 1.3), Math.max(2, Math.max(...ratios) * 1.4)])
    .range([left, width - 28]);
  const size = data.points.length > 400 ? 2.5 : data.points.length > 120 ? 3.5 : 5;
  const strips = strata.map((stratum) =>
    stacked(
      data.points.filter((point) => point.stratum === stratum),
      x,
      size,
    ),
  );
  const heights = strips.map((strip) =>
    Math.max(64, (Math.max(...strip.map(({ level }) => level)) + 1) * size * 2.2 + 34),
  );
  const top = head.height + 34;
  const bottom = top + heights.reduce((sum, height) => sum + height, 0);
  const frame = { left, right: width - 28, top, bottom };
  const notes = noteBlock(notesOf(data), 16, bottom + 46, width - 32);
  const floorOf = (strip: number) =>
    top + heights.slice(0, strip + 1).reduce((sum, height) => sum + height, 0);
  const places = strips.flatMap((strip, i) =>
    strip.map(({ point, level, at }) => ({
      point,
      x: at,
      y: floorOf(i) - 8 - size - level * size * 2.2,
      strip: i,
    })),
  );
  const ticks = roundLogValues(x.domain() as [number, number]).map((value) => ({
    at: x(value),
    label: percentWords(value),
  }));
  const named = places.filter(({ point }) => point.result !== "pass").slice(0, mostNames);
  return svgDocument(
    { width, height: bottom + 46 + notes.height + 8 },
    { title: data.title, description: marginsWords(data) },
    [
      ...head.markup,
      ...bottomAxis(frame, roomyTicks(ticks, "across"), "time as percent of the limit (logarithmic)"),
      ...strata.flatMap((stratum, i) => [
        ...labelLines(16, floorOf(i) - 16, stratum, left - 28),
        line([frame.left, floorOf(i)], [frame.right, floorOf(i)], {
          width: i === strata.length - 1 ? 0 : 0.7,
        }),
      ]),
      line([x(1), top - 6], [x(1), bottom], { stroke: ink.mark, width: 2 }),
      textLine(x(1), top - 10, "limit", { anchor: "middle", bold: true }),
      textLine(x(1) - 30, top - 10, "in time", { anchor: "end", fill: ink.soft, size: 11 }),
      textLine(x(1) + 30, top - 10, "late", { fill: ink.soft, size: 11 }),
      ...places.map(
        ({ point, x, y }) =>
          (point.censored ? arrow(x + size, y, "right", size * 2 + 7) : "") +
          verdictGlyph(point.result, x, y, size),
      ),
      ...placedLabels(
        named.map(({ point, x, y }) => ({ x, y, text: point.label, reach: size })),
        [
          ...places.map(({ point, x, y }) => ({
            ...boxAround(x, y, size),
            right: x + size * (point.censored ? 3 : 1) + 6,
          })),
          { left: x(1) - 4, right: x(1) + 4, top, bottom },
          ...strips.flatMap((_, i) =>
            boxesAlong([
              [frame.left, floorOf(i)],
              [frame.right, floorOf(i)],
            ]),
          ),
        ],
        frame,
      ),
      ...notes.markup,
    ],
  );
}

/** Points of one strip, each at the lowest level where it touches none before it. */
function stacked(points: readonly Point[], x: (ratio: number) => number, size: number) {
  const lastAt: number[] = [];
  return [...points]
    .sort((a, b) => a.ratio - b.ratio || (a.label < b.label ? -1 : 1))
    .map((point) => {
      const at = x(point.ratio);
      const free = lastAt.findIndex((last) => at - last >= size * 2.2);
      const level = free === -1 ? lastAt.length : free;
      lastAt[level] = at + (point.censored ? size * 2 + 8 : 0);
      return { point, level, at };
    });
}

function notesOf(data: MarginsData): string[] {
  const results = (["pass", "fail", "undetermined", "excluded"] as const).filter((result) =>
    data.points.some((point) => point.result === result),
  );
  const marks = `One mark for each specimen; ${results.map((result) => glyphWords[result]).join("; ")}.`;
  const held = data.points.some(({ censored }) => censored)
    ? [" Arrow: had not tripped when the current was ended; its true time is longer."]
    : [];
  const unnamed = data.points.filter(({ result }) => result !== "pass").length - mostNames;
  return [
    marks + held.join(""),
    ...(unnamed > 0 ? [`${unnamed} further marks without a pass are not named.`] : []),
    ...data.notes,
  ];
}

/** The distribution of margins in words, for readers who hear it. */
export function marginsWords(data: MarginsData): string {
  const sorted = data.points.map(({ ratio }) => ratio).sort((a, b) => a - b);
  const count = (result: Point["result"]) => data.points.filter((point) => point.result === result).length;
  const held = data.points.filter(({ censored }) => censored).length;
  return `Time over limit of ${sorted.length} specimens, ${data.criterion}. From ${percentWords(sorted[0] ?? 0)} to ${percentWords(sorted.at(-1) ?? 0)} of the limit; ${count("pass")} pass, ${count("fail")} fail, ${count("undetermined")} undetermined, ${count("excluded")} excluded; ${held} had not tripped when the current was ended.`;
}
