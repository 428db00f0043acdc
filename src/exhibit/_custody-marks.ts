import type { CustodyLine } from "../contract/custody-schema.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { line } from "./_axis.ts";
import { heldBetween, holderKey } from "./_custody-lanes.ts";
import { type Drawing, layout } from "./_custody-layout.ts";
import type { Region } from "./_custody-regions.ts";
import { hatch } from "./_hatch.ts";
import { ink } from "./_ink.ts";
import { isLateEvent } from "./_late-event.ts";
import { arrow, type MarkShape, mark } from "./_marks.ts";
import { element } from "./_svg.ts";
import { textLine, textWidth } from "./_text.ts";
import { isDated } from "./_timeline-knots.ts";

const { right, least, small } = layout;
/** With their shape before them, words of seals must fit under one moment. */
const sealSize = 9;

/** What each condition of a seal is drawn as. */
const sealShapes: Readonly<Record<CustodyLine["event"]["seals"][number]["condition"], MarkShape>> = {
  intact: "square",
  applied: "diamond",
  removed: "ring",
  broken: "cross",
};

/** A gap is hatched, an overlap ruled upright, across the lanes that it lies between. */
export function regionShape({ kind, from, to, holders }: Region, { x, lanes, frame }: Drawing): string {
  if (kind !== "gap" && kind !== "overlap") return "";
  let [begin, end] = [x(from ?? -1), x(to)];
  if (end - begin < 1) [begin, end] = [begin - 12, begin + 12];
  const rows = lanes.list.filter(({ key }) => holders.some((holder) => holderKey(holder) === key));
  const top = frame.top + Math.min(...rows.map((lane) => lane.top)) + 2;
  const bottom = frame.top + Math.max(...rows.map((lane) => lane.top + lane.height)) - 2;
  const corners = [
    [begin, top],
    [end, top],
    [end, bottom],
    [begin, bottom],
  ] as const;
  const edge = element("rect", {
    ...{ x: begin, y: top, width: end - begin, height: bottom - top, fill: "none" },
    ...{ stroke: ink.line, "stroke-width": 0.8, "stroke-dasharray": "3 2" },
  });
  if (kind === "gap") return hatch(corners, 7) + edge;
  const rules = Array.from({ length: Math.floor((end - begin) / 4) }, (_, i) => begin + 2 + i * 4);
  return rules.map((at) => line([at, top], [at, bottom], { stroke: ink.hatch, width: 0.6 })).join("") + edge;
}

/** The line of who has it, and the bar of what lasted. */
export function holding(
  i: number,
  { chain: { data, knots, regions }, first, last, x, middle }: Drawing,
): string[] {
  const current = data.lines[i] as CustodyLine;
  const { event } = current;
  const [from, until] = heldBetween(i, data.lines.length, knots);
  const end = knots.ends[i] ?? from;
  const isLast = i === data.lines.length - 1;
  const gap = regions.some(
    ({ kind, numbers }) => kind === "gap" && numbers.includes(i + 1) && numbers.includes(i + 2),
  );
  const y = middle(event.to);
  const parts: string[] = [];
  const held = gap ? end : isLast && event.event === "disposal" ? end : until;
  if (from <= last && held > first && x(held) > x(from)) {
    parts.push(line([x(from), y], [x(held) - (isLast ? 8 : 0), y], { stroke: ink.line, width: 3 }));
    if (isLast && last === knots.list.length - 1) parts.push(arrow(right - 14, y, "right", 14));
  }
  const lasts = event.observedUntil !== null && event.observedUntil !== event.observedAt;
  if (!isDated(event.observedAt) && event.observedUntil !== null && from >= first && from <= last)
    parts.push(lastingBar(x(from), Math.min(right, x(from) + least / 2), y));
  else if (lasts && from <= last && end > first && x(end) > x(from))
    parts.push(lastingBar(x(from), x(end), y));
  return parts;
}

function lastingBar(from: number, to: number, y: number): string {
  return element("rect", {
    ...{ x: from, y: y - 6, width: to - from, height: 12 },
    ...{ fill: ink.grid, stroke: ink.mark, "stroke-width": 1.2 },
  });
}

/** The hand-over as an arrow from lane to lane, and the event's number where it arrived. */
export function eventMark(i: number, { chain: { data, knots, regions }, x, middle }: Drawing): string[] {
  const current = data.lines[i] as CustodyLine;
  const at = x(knots.begins[i] ?? 0);
  const [from, to] = [middle(current.event.from), middle(current.event.to)];
  const radius = i < 99 ? 9 : 11;
  const direction = to > from ? 1 : -1;
  const late = isLateEvent(current, regions, i);
  const number = textLine(at, to + 3.5, `${i + 1}`, {
    ...{ size: small, anchor: "middle", bold: true, fill: late ? ink.text : ink.paper },
  });
  const moved =
    from === to
      ? []
      : [
          mark("ring", at, from, 2.5),
          arrow(at, from + direction * 2.5, to > from ? "down" : "up", Math.abs(to - from) - radius - 3),
        ];
  return [...moved, mark(late ? "ring" : "disc", at, to, radius), number];
}

/** How many seals an event names in each condition. */
export const sealsOf = ({ event }: CustodyLine) => {
  const counts = new Map<keyof typeof sealShapes, number>();
  for (const { condition } of event.seals) counts.set(condition, (counts.get(condition) ?? 0) + 1);
  return [...counts];
};

/** Below the axis: how much later it was entered, and its seals by condition. */
export function underEvent(
  i: number,
  { chain: { data, knots, regions }, x }: Drawing,
  lateY: number,
  sealY: number,
): string[] {
  const current = data.lines[i] as CustodyLine;
  const at = x(knots.begins[i] ?? 0);
  const words = isDated(current.event.observedAt) ? formatSeconds(current.lateSeconds) : "later";
  return [
    isLateEvent(current, regions, i) ? textLine(at, lateY, words, { size: small, anchor: "middle" }) : "",
    ...sealsOf(current).flatMap(([condition, count], row) => {
      const text = count === 1 ? condition : `${count} ${condition}`;
      const wide = textWidth(text, sealSize) + 10;
      const y = sealY + row * 14;
      return [
        mark(sealShapes[condition], at - wide / 2 + 4, y - 3.5, 3.2),
        textLine(at - wide / 2 + 10, y, text, { size: sealSize }),
      ];
    }),
  ];
}
