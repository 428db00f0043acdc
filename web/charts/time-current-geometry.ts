import type { ShotLine } from "../../src/contract/http.ts";
import { rowsFor } from "../../src/core/limits/applicable-rows.ts";
import type { LimitRow, LimitSet } from "../../src/core/limits/limit-set.ts";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";

/** A limit at one multiple of the rating. `latest`: it must have tripped by then. `earliest`: it must not trip before. */
export interface LimitMark {
  multiple: number;
  seconds: number;
  edge: "latest" | "earliest";
  label: string;
  /** False where the value was not read in the document itself. */
  readInDocument: boolean;
}

/** An earlier shot on the chart. `held`: it had not tripped by then, so its true place is higher up. */
export interface ShotMark {
  id: string;
  multiple: number;
  seconds: number;
  shape: "tripped" | "held" | "interrupted";
  label: string;
  /** True for the shot that the page is about. */
  chosen: boolean;
}

/** A corner of a region: multiple of the rating, seconds. */
export type Corner = readonly [multiple: number, seconds: number];

/** The limits of a set that apply to a specimen, from the lowest multiple to the highest; one mark for equal limits. */
export function limitMarks(set: LimitSet, specimen: Specimen): LimitMark[] {
  const marks = new Map<string, LimitMark>();
  for (const row of rowsFor(set, specimen)) {
    for (const mark of marksOfRow(row)) {
      const key = `${mark.multiple} ${mark.edge} ${mark.seconds}`;
      const known = marks.get(key);
      if (known === undefined) marks.set(key, mark);
      else if (!mark.readInDocument) marks.set(key, { ...known, readInDocument: false });
    }
  }
  return [...marks.values()].sort((a, b) => a.multiple - b.multiple || a.seconds - b.seconds);
}

function marksOfRow(row: LimitRow): LimitMark[] {
  const mark = (edge: LimitMark["edge"], seconds: number, words: string): LimitMark => ({
    multiple: row.multiple,
    seconds,
    edge,
    label: `${words} ${formatSeconds(seconds)}`,
    readInDocument: row.source.standing === "read in the document",
  });
  switch (row.requirement.kind) {
    case "trip-within":
      return [mark("latest", row.requirement.maxSeconds, "trip within")];
    case "hold-for":
      return [mark("earliest", row.requirement.seconds, "hold for")];
    case "trip-between":
      return [
        mark("earliest", row.requirement.minSeconds, "not before"),
        mark("latest", row.requirement.maxSeconds, "trip within"),
      ];
  }
}

/**
 * Lower edge of the region where a trip comes too late, as a staircase from the lowest multiple with a limit to
 * `toMultiple`. Between test points it only guides the eye: what must trip in time at one current must, by the longest of
 * the limits at lower multiples, not be slower at a higher one. Empty without a `latest` limit.
 */
export function tooLateEdge(marks: readonly LimitMark[], toMultiple: number): Corner[] {
  const corners: Corner[] = [];
  let level = Number.POSITIVE_INFINITY;
  for (const mark of marks) {
    if (mark.edge !== "latest" || mark.seconds >= level) continue;
    if (corners.length > 0) corners.push([mark.multiple, level]);
    corners.push([mark.multiple, mark.seconds]);
    level = mark.seconds;
  }
  if (corners.length > 0) corners.push([Math.max(toMultiple, corners.at(-1)?.[0] ?? 0), level]);
  return corners;
}

/** Upper edge of the region where a trip comes too soon, a staircase from `fromMultiple` to the highest hold point. */
export function tooSoonEdge(marks: readonly LimitMark[], fromMultiple: number): Corner[] {
  const corners: Corner[] = [];
  let level = Number.NEGATIVE_INFINITY;
  for (const mark of [...marks].reverse()) {
    if (mark.edge !== "earliest" || mark.seconds <= level) continue;
    if (corners.length > 0) corners.push([mark.multiple, level]);
    corners.push([mark.multiple, mark.seconds]);
    level = mark.seconds;
  }
  if (corners.length > 0) corners.push([Math.min(fromMultiple, corners.at(-1)?.[0] ?? 0), level]);
  return corners.reverse();
}

/** The shots of a record as marks. Shots without any time on them (no current flowed) have no place and are left out. */
export function shotMarks(lines: readonly ShotLine[], chosen: string | null): ShotMark[] {
  return lines.flatMap((line) => {
    if (line.outcome === null || line.result === "excluded") return [];
    const seconds = line.outcome === "tripped" ? line.seconds : line.heldSeconds;
    if (seconds === null || !(seconds > 0)) return [];
    const pole = line.loading === "all" ? "all poles" : `pole ${line.loading.slice(-1)}`;
    return [
      {
        id: line.id,
        multiple: line.multiple,
        seconds,
        shape: line.outcome,
        label: line.poles === 1 ? "" : pole,
        chosen: line.id === chosen,
      },
    ];
  });
}

/** What the axes must span: multiples and seconds, each lowest to highest, with room around everything drawn. */
export function extentOf(
  limits: readonly LimitMark[],
  shots: readonly ShotMark[],
): { multiples: [number, number]; seconds: [number, number] } {
  const multiples = [1, 2, ...limits.map((m) => m.multiple), ...shots.map((m) => m.multiple)];
  const seconds = [10, 1000, ...limits.map((m) => m.seconds), ...shots.map((m) => m.seconds)];
  return {
    multiples: [Math.min(...multiples) * 0.5, Math.max(...multiples) * 2.3],
    seconds: [Math.max(0.001, Math.min(...seconds) / 3), Math.max(...seconds) * 3.2],
  };
}

/** Round multiples, the more welcome first. */
const niceMultiples = [1, 2, 5, 10, 20, 50, 0.5, 3];
const niceSeconds = [0.001, 0.01, 0.1, 1, 10, 60, 600, 3600, 21_600, 86_400];

/** Where the multiples' axis has its numbers: the test multiples, and round ones that do not crowd them. */
export function multipleTicks(
  limits: readonly LimitMark[],
  [low, high]: readonly [number, number],
): number[] {
  const tested = [...new Set(limits.map((mark) => mark.multiple))];
  const far = (value: number, from: number) => Math.abs(Math.log(value / from)) > 0.25;
  const ticks = tested.filter((value, i) => tested.slice(0, i).every((other) => far(value, other)));
  for (const value of niceMultiples) if (ticks.every((other) => far(value, other))) ticks.push(value);
  return ticks.filter((value) => value >= low && value <= high).sort((a, b) => a - b);
}

/** Where the time axis has its numbers. */
export function secondTicks([low, high]: readonly [number, number]): number[] {
  return niceSeconds.filter((value) => value >= low && value <= high);
}

/** A time on the axis in the unit that people use for it. */
export function tickWords(seconds: number): string {
  if (seconds >= 3600) return `${seconds / 3600} h`;
  return seconds >= 60 ? `${seconds / 60} min` : `${seconds} s`;
}

/**
 * Moves labels apart that would lie over each other: each keeps its order and stays as near to its wish as the others let
 * it. Positions are the middles, downwards; `height` is that of one label.
 */
export function spreadLabels(
  wishes: readonly number[],
  height: number,
  top: number,
  bottom: number,
): number[] {
  const order = wishes.map((_, i) => i).sort((a, b) => (wishes[a] ?? 0) - (wishes[b] ?? 0));
  const places = wishes.map((wish) => Math.min(Math.max(wish, top + height / 2), bottom - height / 2));
  const placeAt = (index: number | undefined) => places[index ?? -1] ?? 0;
  for (let i = 1; i < order.length; i++) {
    const index = order[i] ?? 0;
    places[index] = Math.max(placeAt(index), placeAt(order[i - 1]) + height);
  }
  let ceiling = bottom - height / 2;
  for (const index of [...order].reverse()) {
    places[index] = Math.min(placeAt(index), ceiling);
    ceiling = placeAt(index) - height;
  }
  return places;
}

/** A label at a place, in any unit of length. */
export interface PlacedLabel {
  x: number;
  y: number;
  label: string;
}

/**
 * Labels of points that lie on each other, as when three poles trip after nearly the same time: the first of such points
 * takes the labels of all, each once; the others go without.
 */
export function joinNearLabels(points: readonly PlacedLabel[], distance: number): string[] {
  const labels = points.map(() => new Set<string>());
  points.forEach((point, i) => {
    const first = points.findIndex((other) => Math.hypot(other.x - point.x, other.y - point.y) < distance);
    if (point.label !== "") labels[first === -1 ? i : first]?.add(point.label);
  });
  return labels.map((set) => [...set].sort().join(", "));
}
