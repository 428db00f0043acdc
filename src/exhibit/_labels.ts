import type { Frame } from "./_axis.ts";
import { line } from "./_axis.ts";
import { ink } from "./_ink.ts";
import { fitText, textLine, textWidth } from "./_text.ts";

/** Words that belong to a place. */
export interface Wish {
  x: number;
  y: number;
  text: string;
  /** How far the mark reaches from its place. */
  reach?: number;
}

const size = 11;
const height = 14;
/** Longer names are cut, so that one cannot cover the picture. */
const widest = 300;

/** Directions in the order of preference: right, left, above, below, and between. */
const directions = [
  [1, 0],
  [-1, 0],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
  [0, -1],
  [0, 1],
] as const;
const distances = [0, 14, 28, 44, 62, 84, 110, 140];

/**
 * Words beside their marks, moved to where they cover neither each other nor what is in the way, with a thin line back to
 * the mark where they stand away from it. Those given first choose first. Where no place is free, the least covered is taken.
 */
export function placedLabels(wishes: readonly Wish[], inTheWay: readonly Frame[], bounds: Frame): string[] {
  const taken: Frame[] = [...inTheWay];
  const cut = wishes.map((wish) => ({ ...wish, text: fitText(wish.text, widest, size) }));
  return cut.map((wish) => {
    const others = cut.filter((other) => other !== wish);
    const box = bestPlace(wish, others, taken, bounds);
    taken.push(box);
    const [nearX, nearY] = nearestPoint(box, wish);
    const isAway = distanceTo(box, wish) > (wish.reach ?? 6) + 8;
    const leader = isAway ? line([wish.x, wish.y], [nearX, nearY], { stroke: ink.line, width: 0.7 }) : "";
    return leader + textLine(box.left + 2, box.bottom - 3.5, wish.text, { size, plate: true });
  });
}

/** The room that a mark takes up. */
export function boxAround(x: number, y: number, reach: number): Frame {
  return { left: x - reach, top: y - reach, right: x + reach, bottom: y + reach };
}

/** Small boxes along a line, so that words avoid it where there is room nearby, but not at any price. */
export function boxesAlong(points: readonly (readonly [number, number])[]): Frame[] {
  return points.slice(1).flatMap(([toX, toY], i) => {
    const [fromX, fromY] = points[i] as readonly [number, number];
    const count = Math.ceil(Math.hypot(toX - fromX, toY - fromY) / 8);
    return Array.from({ length: count }, (_, part) =>
      boxAround(fromX + ((toX - fromX) * part) / count, fromY + ((toY - fromY) * part) / count, 1.2),
    );
  });
}

function nearestPoint(box: Frame, { x, y }: Wish): readonly [number, number] {
  return [Math.min(Math.max(x, box.left), box.right), Math.min(Math.max(y, box.top), box.bottom)];
}

function distanceTo(box: Frame, wish: Wish): number {
  const [x, y] = nearestPoint(box, wish);
  return Math.hypot(x - wish.x, y - wish.y);
}

function bestPlace(wish: Wish, others: readonly Wish[], taken: readonly Frame[], bounds: Frame): Frame {
  const width = textWidth(wish.text, size) + 4;
  let best: Frame | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const distance of distances) {
    for (const [dx, dy] of directions) {
      const box = boxAt(wish, dx, dy, distance, width);
      const outside = overhang(box, bounds);
      const own = distanceTo(box, wish);
      // Words that stand nearer to another mark than to their own mislead.
      const misleading = others.filter((other) => distanceTo(box, other) < own).length;
      const cost =
        taken.reduce((sum, other) => sum + overlap(box, other), 0) +
        outside * 50 +
        misleading * 12 +
        distance * 0.5;
      if (cost < least) {
        least = cost;
        best = box;
      }
    }
    if (best !== null && least <= distance * 0.5) break;
  }
  return pulledInside(best ?? boxAt(wish, 1, 0, 0, width), bounds);
}

function boxAt({ x, y, reach = 6 }: Wish, dx: number, dy: number, distance: number, width: number): Frame {
  const away = reach + 2 + distance;
  const left = dx > 0 ? x + away : dx < 0 ? x - away - width : x - width / 2;
  const middle = y + dy * (dx === 0 ? away + height / 2 : Math.max(height * 0.6, away * 0.8));
  return { left, top: middle - height / 2, right: left + width, bottom: middle + height / 2 };
}

function overlap(a: Frame, b: Frame): number {
  const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  return across > 0 && down > 0 ? across * down : 0;
}

function overhang(box: Frame, bounds: Frame): number {
  return (
    Math.max(0, bounds.left - box.left) +
    Math.max(0, box.right - bounds.right) +
    Math.max(0, bounds.top - box.top) +
    Math.max(0, box.bottom - bounds.bottom)
  );
}

function pulledInside(box: Frame, bounds: Frame): Frame {
  const dx = Math.max(bounds.left - box.left, Math.min(0, bounds.right - box.right));
  const dy = Math.max(bounds.top - box.top, Math.min(0, bounds.bottom - box.bottom));
  return { left: box.left + dx, top: box.top + dy, right: box.right + dx, bottom: box.bottom + dy };
}
