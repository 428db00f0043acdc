import { ink } from "./_ink.ts";
import { element, pointList } from "./_svg.ts";

/** Shapes of a data point; filled ones are measured, open ones are bounds. */
export type MarkShape = "disc" | "ring" | "cross" | "square" | "diamond" | "triangle";

/** A mark at a place; `size` is its half width. */
export function mark(shape: MarkShape, x: number, y: number, size: number): string {
  const drawn = { stroke: ink.mark, "stroke-width": 1.8 };
  const polygon = (corners: readonly (readonly [number, number])[], fill: string) =>
    element("polygon", { points: pointList(corners), fill, ...drawn });
  switch (shape) {
    case "disc":
      return element("circle", { cx: x, cy: y, r: size, fill: ink.mark, stroke: ink.paper });
    case "ring":
      return element("circle", { cx: x, cy: y, r: size, fill: ink.paper, ...drawn });
    case "cross":
      return element("path", {
        d: `M${pointList([[x - size, y - size]])}L${pointList([[x + size, y + size]])}M${pointList([[x - size, y + size]])}L${pointList([[x + size, y - size]])}`,
        fill: "none",
        ...drawn,
        "stroke-width": 2.4,
      });
    case "square":
      return polygon(
        [
          [x - size, y - size],
          [x + size, y - size],
          [x + size, y + size],
          [x - size, y + size],
        ],
        ink.mark,
      );
    case "diamond":
      return polygon(
        [
          [x, y - size],
          [x + size, y],
          [x, y + size],
          [x - size, y],
        ],
        ink.mark,
      );
    case "triangle":
      return polygon(
        [
          [x, y - size],
          [x + size, y + size * 0.8],
          [x - size, y + size * 0.8],
        ],
        ink.paper,
      );
  }
}

/** An arrow from a place: something goes on in that direction. */
export function arrow(
  x: number,
  y: number,
  direction: "up" | "left" | "right" | "down",
  length = 20,
): string {
  const [dx, dy] = { up: [0, -1], down: [0, 1], left: [-1, 0], right: [1, 0] }[direction] as [number, number];
  const [tipX, tipY] = [x + dx * length, y + dy * length];
  const [baseX, baseY] = [tipX - dx * 7, tipY - dy * 7];
  const head = pointList([
    [tipX, tipY],
    [baseX + dy * 3.5, baseY + dx * 3.5],
    [baseX - dy * 3.5, baseY - dx * 3.5],
  ]);
  return (
    element("line", { x1: x, y1: y, x2: baseX, y2: baseY, stroke: ink.mark, "stroke-width": 1.6 }) +
    element("polygon", { points: head, fill: ink.mark })
  );
}

/** A bar between two places with caps at its ends. */
export function bar(from: readonly [number, number], to: readonly [number, number], cap = 4): string {
  const upright = from[0] === to[0];
  const capAt = ([x, y]: readonly [number, number]) =>
    upright
      ? `M${pointList([[x - cap, y]])}L${pointList([[x + cap, y]])}`
      : `M${pointList([[x, y - cap]])}L${pointList([[x, y + cap]])}`;
  return element("path", {
    d: `M${pointList([from])}L${pointList([to])}${cap > 0 ? capAt(from) + capAt(to) : ""}`,
    fill: "none",
    stroke: ink.mark,
    "stroke-width": 1.4,
  });
}
