import type { ShotLine } from "../../src/contract/http.ts";
import type { LimitMark } from "../../src/core/limits/limit-marks.ts";

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
