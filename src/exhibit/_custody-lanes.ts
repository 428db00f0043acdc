import { type Chain, type Lanes, layout } from "./_custody-layout.ts";
import type { Region } from "./_custody-regions.ts";
import { wrapText } from "./_text.ts";
import type { Knots } from "./_timeline-knots.ts";

const nameWidth = layout.left - layout.names - 12;
const mostNameLines = 6;

/** Holders are one where only capitals and blanks at the ends differ, as where gaps are looked for. */
export const holderKey = (name: string): string => name.trim().toLowerCase();

/** One lane for each holder that the strip tells of, in the order in which the chain first names them. */
export function laneLayout(
  { data, knots }: Chain,
  events: readonly number[],
  regions: readonly Region[],
  first: number,
  last: number,
): Lanes {
  const seen = new Set<string>();
  for (const i of events) {
    const event = data.lines[i]?.event;
    for (const holder of [event?.from, event?.to]) seen.add(holderKey(holder ?? ""));
  }
  data.lines.forEach(({ event }, i) => {
    const [from, to] = heldBetween(i, data.lines.length, knots);
    if (from <= last && to > first) seen.add(holderKey(event.to));
  });
  for (const { holders } of regions) for (const holder of holders) seen.add(holderKey(holder));
  const names = new Map<string, string>();
  for (const { event } of data.lines)
    for (const holder of [event.from, event.to])
      if (!names.has(holderKey(holder))) names.set(holderKey(holder), holder.trim());
  let top = 0;
  const list = [...names].flatMap(([key, name]) => {
    if (!seen.has(key)) return [];
    const all = wrapText(name || "not named", nameWidth, layout.small);
    const isCut = all.length > mostNameLines;
    // Long names often begin alike, so the last line stays.
    const lines = isCut ? [...all.slice(0, mostNameLines - 2), "...", all.at(-1) ?? ""] : all;
    const lane = { key, lines, isCut, top, height: Math.max(30, lines.length * 12 + 8) };
    top += lane.height;
    return [lane];
  });
  const middleOf = (holder: string) => {
    const lane = list.find(({ key }) => key === holderKey(holder));
    return lane === undefined ? 0 : lane.top + lane.height / 2;
  };
  return { list, height: top, middleOf };
}

/** The moments between which the record has it with the holder that event `i` names: until its end or the next event. */
export function heldBetween(i: number, count: number, { begins, ends, list }: Knots): [number, number] {
  const from = begins[i] ?? 0;
  const next = i + 1 < count ? (begins[i + 1] ?? from) : list.length;
  return [from, Math.max(ends[i] ?? from, next)];
}
