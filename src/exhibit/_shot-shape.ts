import type { DrawnShot } from "../contract/exhibit-figures.ts";
import type { Frame } from "./_axis.ts";
import { arrow, bar, mark } from "./_marks.ts";

/** Half width of the marks. */
const size = 4.5;

/**
 * A shot: a disc where it tripped, an open circle with an arrow onwards where it held, a cross where it was interrupted; with
 * bars for the uncertainty of its time and of its current where they reach beyond the mark.
 */
export function shotShape(
  shot: DrawnShot,
  plane: { frame: Frame; x(multiple: number): number; y(seconds: number): number },
): string {
  const { multiple, seconds, outcome, time, current } = shot;
  const [x, y] = [plane.x(multiple), plane.y(seconds)];
  const across = current === null ? "" : seenBar([plane.x(current.lower), y], [plane.x(current.upper), y]);
  if (outcome === "held") return across + arrow(x, y - size, "up", 24) + mark("ring", x, y, size);
  if (outcome === "interrupted") return across + mark("cross", x, y, size);
  return across + timeBar(time, x, plane) + mark("disc", x, y, size);
}

function timeBar(time: DrawnShot["time"], x: number, { y }: { y(seconds: number): number }): string {
  if (time === null) return "";
  const bottom = y(time.lower);
  return time.upper === null ? arrow(x, bottom, "up", 40) : seenBar([x, bottom], [x, y(time.upper)]);
}

/** A bar, or nothing where it would lie under its mark. */
function seenBar(from: readonly [number, number], to: readonly [number, number]): string {
  const length = Math.abs(to[0] - from[0]) + Math.abs(to[1] - from[1]);
  return length > 2 * size + 2 ? bar(from, to) : "";
}
