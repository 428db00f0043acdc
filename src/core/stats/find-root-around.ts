import { findRoot } from "./find-root.ts";

/**
 * The root of an increasing function on the whole line, its bracket widened from `start` in doubling steps.
 *
 * @param firstStep how far from `start` to look first, above 0
 * @throws RangeError if no change of sign is found within 2^60 first steps
 */
export function findRootAround(f: (x: number) => number, start: number, firstStep: number): number {
  const known = new Map<number, number>();
  const remembered = (x: number) => {
    const value = known.get(x) ?? f(x);
    known.set(x, value);
    return value;
  };
  return findRoot(remembered, edge(remembered, start, -firstStep), edge(remembered, start, firstStep));
}

/** A point at or beyond `start` in the direction of `step` where an increasing function has the sign of the step, or 0. */
function edge(f: (x: number) => number, start: number, step: number): number {
  let point = start;
  let reach = step;
  for (let doublings = 0; doublings < 60; doublings += 1) {
    if (f(point) * Math.sign(step) >= 0) return point;
    point += reach;
    reach *= 2;
  }
  throw new RangeError(`no change of sign found from ${start} to ${point}`);
}
