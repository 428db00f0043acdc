import { chiSquareTail } from "./chi-square-tail.ts";
import { findRoot } from "./find-root.ts";

/**
 * The x that a chi-square variable exceeds with probability `tail`.
 *
 * Root of the finite sums of {@link chiSquareTail}, so that both small and large tails keep their digits.
 *
 * @throws RangeError if tail is not in (0, 1), or df is not a whole number above 0
 */
export function chiSquareQuantile(tail: number, df: number): number {
  if (!(tail > 0 && tail < 1)) throw new RangeError(`tail must be above 0 and below 1 but is ${tail}`);
  let high = df + 1;
  while (chiSquareTail(high, df) > tail) high *= 2;
  return findRoot((x) => chiSquareTail(x, df) - tail, 0, high);
}
