import { ink } from "./_ink.ts";
import { element, pointList } from "./_svg.ts";

type Point = readonly [number, number];

/**
 * Slanted lines inside a polygon, cut at its edges. Plain lines, because patterns and clip paths need identifiers, which
 * clash where two figures stand on one page.
 */
export function hatch(polygon: readonly Point[], spacing = 8, stroke: string = ink.hatch): string {
  // Lines of constant x + y, climbing to the right; the even-odd rule says which stretches are inside.
  const sums = polygon.map(([x, y]) => x + y);
  const first = Math.ceil(Math.min(...sums) / spacing);
  const last = Math.floor(Math.max(...sums) / spacing);
  const pieces: string[] = [];
  for (let i = first; i <= last; i++) {
    const at = crossings(polygon, i * spacing);
    for (let j = 0; j + 1 < at.length; j += 2) {
      const [from, to] = [at[j] as Point, at[j + 1] as Point];
      pieces.push(`M${pointList([from])}L${pointList([to])}`);
    }
  }
  if (pieces.length === 0) return "";
  return element("path", { d: pieces.join(""), fill: "none", stroke, "stroke-width": 0.6 });
}

/** Where the line x + y = sum crosses the polygon's edges, from left to right. */
function crossings(polygon: readonly Point[], sum: number): Point[] {
  const found: Point[] = [];
  for (const [i, from] of polygon.entries()) {
    const to = polygon[(i + 1) % polygon.length] as Point;
    const [a, b] = [from[0] + from[1] - sum, to[0] + to[1] - sum];
    if (a < 0 === b < 0) continue;
    const part = a / (a - b);
    found.push([from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])]);
  }
  return found.sort((p, q) => p[0] - q[0]);
}
