import type { LimitMark } from "../core/limits/limit-marks.ts";
import { ink } from "./_ink.ts";
import { element, svgNumber } from "./_svg.ts";

/** Half length of the bar. */
const half = 14;

/**
 * A limit: a bar with teeth on the side on which a trip is not allowed, above for the latest time, below for the earliest. Broken
 * where the value was not read in the document itself.
 */
export function limitShape(x: number, y: number, edge: LimitMark["edge"], readInDocument: boolean): string {
  const side = edge === "latest" ? -1 : 1;
  const teeth = [-10.5, -3.5, 3.5, 10.5].map(
    (offset) => `M${svgNumber(x + offset)},${svgNumber(y)}l4,${svgNumber(side * 7)}`,
  );
  return element("path", {
    d: `M${svgNumber(x - half)},${svgNumber(y)}H${svgNumber(x + half)}${teeth.join("")}`,
    fill: "none",
    stroke: ink.mark,
    "stroke-width": 1.6,
    "stroke-dasharray": readInDocument ? undefined : "3 1.5",
  });
}
