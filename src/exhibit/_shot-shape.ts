import type { DrawnShot } from "../contract/exhibit-figures.ts";
import type { Frame } from "./_axis.ts";
import { arrow, bar, mark } from "./_marks.ts";

/**
 * A shot: a disc where it tripped, an open circle with an arrow onwards where it held, a cross where it was interrupted; with
 * bars for the uncertainty of its time and of its current.
 */
export function shotShape(
  shot: DrawnShot,
  plane: { frame: Frame; x(multiple: number): number; y(seconds: number): number },
): string {
  const { multiple, seconds, outcome, time, current } = shot;
  const [x, y] = [plane.x(multiple), plane.y(seconds)];
  const across = current === null ? "" : bar([plane.x(current.lower), y], [plane.x(current.upper), y]);
  if (outcome === "held") return across + arrow(x, y - 5, "up", 24) + mark("ring", x, y, 5);
  if (outcome === "interrupted") return across + mark("cross", x, y, 5);
  return across + timeBar(time, x, plane) + mark("disc", x, y, 5);
}

function timeBar(time: DrawnShot["time"], x: number, { y }: { y(seconds: number): number }): string {
  if (time === null) return "";
  const bottom = y(time.lower);
  if (time.upper !== null) return bar([x, bottom], [x, y(time.upper)]);
  return bar([x, bottom], [x, bottom - 1]) + arrow(x, bottom, "up", 40);
}
