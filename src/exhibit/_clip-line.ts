import type { Frame } from "./_axis.ts";

type Point = readonly [number, number];

/**
 * The pieces of a polyline that lie inside a frame, cut where they leave it.
 *
 * Source: Liang Y-D, Barsky B A (1984) ACM Transactions on Graphics 3:1-22 (parametric clipping of each segment).
 */
export function clipLine(points: readonly Point[], frame: Frame): Point[][] {
  const pieces: Point[][] = [];
  for (let i = 1; i < points.length; i++) {
    const cut = clipSegment(points[i - 1] as Point, points[i] as Point, frame);
    if (cut === null) continue;
    const open = pieces.at(-1);
    const end = open?.at(-1);
    if (open !== undefined && end !== undefined && end[0] === cut[0][0] && end[1] === cut[0][1])
      open.push(cut[1]);
    else pieces.push([...cut]);
  }
  return pieces;
}

function clipSegment([x0, y0]: Point, [x1, y1]: Point, frame: Frame): [Point, Point] | null {
  const [dx, dy] = [x1 - x0, y1 - y0];
  let [enter, leave] = [0, 1];
  const edges = [
    [-dx, x0 - frame.left],
    [dx, frame.right - x0],
    [-dy, y0 - frame.top],
    [dy, frame.bottom - y0],
  ] as const;
  for (const [p, q] of edges) {
    if (p === 0 && q < 0) return null;
    if (p < 0) enter = Math.max(enter, q / p);
    if (p > 0) leave = Math.min(leave, q / p);
  }
  if (enter > leave) return null;
  const at = (part: number): Point =>
    part === 0 ? [x0, y0] : part === 1 ? [x1, y1] : [x0 + part * dx, y0 + part * dy];
  return [at(enter), at(leave)];
}
