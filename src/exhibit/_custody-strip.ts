import type { CustodyLine } from "../contract/custody-schema.ts";
import { line } from "./_axis.ts";
import { custodyAxis, shotMarks } from "./_custody-axis.ts";
import { laneLayout } from "./_custody-lanes.ts";
import { type Chain, layout } from "./_custody-layout.ts";
import { eventMark, holding, regionShape, sealsOf, underEvent } from "./_custody-marks.ts";
import type { Region } from "./_custody-regions.ts";
import { ink } from "./_ink.ts";
import { isLateEvent } from "./_late-event.ts";
import { bar } from "./_marks.ts";
import { type Stretch, stretchWidths } from "./_stretch-widths.ts";
import { fitText, textLine, textWidth } from "./_text.ts";
import { isDated } from "./_timeline-knots.ts";

const { names, left, right, inset, least, small } = layout;

const room = right - left - 2 * inset;

/** So many stretches have room side by side, and one over for those that are drawn wider. */
export const mostStretches = Math.floor(room / least) - 1;

/** A strip of a timeline from one moment to another, and what it shows. */
export interface Strip {
  markup(top: number): string[];
  height: number;
  /** Places of the events that are drawn in it. */
  events: readonly number[];
  regions: readonly Region[];
  stretches: readonly Stretch[];
  hasCutName: boolean;
  hasFirstCurrent: boolean;
}

/**
 * One strip, from the moment in place `first` to that in place `last`. A strip that goes on from another begins with the last
 * moment of that one, whose events are not drawn again.
 */
export function custodyStrip(chain: Chain, first: number, last: number): Strip {
  const { data, knots } = chain;
  const isContinued = first > 0;
  const moments = knots.list.slice(first, last + 1);
  const stretches = stretchWidths(
    moments.slice(1).map(({ seconds }, i) => {
      const before = moments[i]?.seconds ?? null;
      return seconds === null || before === null ? null : seconds - before;
    }),
    room,
    least,
  );
  const places = [left + inset];
  for (const { width } of stretches) places.push((places.at(-1) ?? 0) + width);
  /** Pixels of a moment; what lies outside the strip reaches its edge. */
  const x = (knot: number): number => {
    if (knot < first || (isContinued && knot === first)) return left;
    return knot > last ? right : (places[knot - first] ?? right);
  };
  const isDrawn = (knot: number) => knot <= last && (knot > first || (!isContinued && knot === first));
  const events = data.lines.flatMap((_, i) => (isDrawn(knots.begins[i] ?? 0) ? [i] : []));
  const regions = chain.regions.filter(({ from, to }) =>
    from === to || from === null ? isDrawn(to) : from < last && to > first,
  );
  const lanes = laneLayout(chain, events, regions, first, last);
  const remarkRows = packed(regions, x);
  const hasLate = events.some((i) => isLateEvent(data.lines[i] as CustodyLine, chain.regions, i));
  const sealRows = Math.max(0, ...events.map((i) => sealsOf(data.lines[i] as CustodyLine).length));
  const laneTop = 18 + remarkRows.count * 16 + 4;
  const laneBottom = laneTop + lanes.height;
  const underAxis = laneBottom + 48;
  const sealTop = underAxis + (hasLate ? 15 : 0);
  const height = sealTop + sealRows * 14 + 8;

  // In a published copy only that it was entered later is known.
  const lateTitle = isDated(moments[0]?.at ?? "") ? "entered later by" : "entered";

  const markup = (top: number): string[] => {
    const frame = { left, right, top: top + laneTop, bottom: top + laneBottom };
    const middle = (holder: string) => top + laneTop + lanes.middleOf(holder);
    const strip = { chain, first, last, x, frame, middle, lanes, events };
    return [
      ...regions.map((region) => regionShape(region, strip)),
      ...lanes.list.flatMap(({ lines, top: from, height: tall }) => [
        line([names, frame.top + from], [right, frame.top + from], { stroke: ink.grid }),
        ...lines.map((text, i) =>
          textLine(names, frame.top + from + tall / 2 + 3.5 + (i - (lines.length - 1) / 2) * 12, text, {
            size: small,
          }),
        ),
      ]),
      ...custodyAxis(strip, stretches, places),
      ...shotMarks(strip, top + 10),
      ...data.lines.flatMap((_, i) => holding(i, strip)),
      ...events.flatMap((i) => eventMark(i, strip)),
      ...moments.flatMap(({ heading }, i) => {
        const isRepeated = isContinued && i === 0;
        const text = isRepeated ? "continued" : fitText(heading, least - 2, small);
        const fill = isRepeated ? ink.soft : ink.text;
        return [textLine(places[i] ?? left, top + 10, text, { size: small, anchor: "middle", fill })];
      }),
      ...remarkRows.list.flatMap(({ region, row, centre, words }) => {
        const y = top + 18 + row * 16 + 8;
        const [from, to] = [x(region.from ?? -1), x(region.to)];
        const isSpan = region.from !== region.to && to - from > textWidth(words, small, true) + 8;
        return [
          isSpan ? bar([from + 1, y], [to - 1, y]) : "",
          textLine(centre, y + 3.5, words, { size: small, anchor: "middle", bold: true, plate: true }),
        ];
      }),
      hasLate ? textLine(names, top + underAxis + 11, lateTitle, { size: small, fill: ink.soft }) : "",
      sealRows > 0 ? textLine(names, top + sealTop + 11, "seals", { size: small, fill: ink.soft }) : "",
      ...events.flatMap((i) => underEvent(i, strip, top + underAxis + 11, top + sealTop + 11)),
    ];
  };
  return {
    ...{ markup, height, events, regions, stretches },
    hasCutName: lanes.list.some(({ isCut }) => isCut),
    hasFirstCurrent: knots.firstCurrent !== null && isDrawn(knots.firstCurrent.knot),
  };
}

/** Labels of remarks in as few rows as keep them apart. */
function packed(regions: readonly Region[], x: (knot: number) => number) {
  const free: number[] = [];
  const list = regions
    .map((region) => {
      const words = `${region.letter} ${region.kind}`;
      const [from, to] = [x(region.from ?? -1), x(region.to)];
      const half = textWidth(words, small, true) / 2 + 3;
      const centre = Math.min(right - half, Math.max(left + half, (from + to) / 2));
      const isSpan = region.from !== region.to;
      return {
        region,
        words,
        centre,
        from: isSpan ? Math.min(from, centre - half) : centre - half,
        to: isSpan ? Math.max(to, centre + half) : centre + half,
      };
    })
    .sort((a, b) => a.from - b.from)
    .map((label) => {
      const found = free.findIndex((end) => end <= label.from);
      const row = found === -1 ? free.length : found;
      free[row] = label.to;
      return { ...label, row };
    });
  return { list, count: free.length };
}
