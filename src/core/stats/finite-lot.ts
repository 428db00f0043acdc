import { checkCounts, checkOpenProbability, checkWhole } from "./check-arguments.ts";
import { compareHypergeometricTail } from "./compare-hypergeometric-tail.ts";
import { complement, decimalOf, decimalToNumber } from "./decimal.ts";
import type { Interval } from "./interval.ts";
import { smallestWhole } from "./smallest-whole.ts";

/**
 * The most bad items that a lot may hold, so that k bad ones or fewer among n tested are not too unlikely: the largest M with
 * P(X <= k) > tail, for X hypergeometric.
 *
 * An exact upper bound of confidence 1 - tail on the number bad in the whole lot, those tested included.
 *
 * Source: Konijn H S (1973) Statistical Theory of Sample Survey Design and Analysis, and Wright T (1991) Exact Confidence
 * Bounds when Sampling from Small Finite Universes, chapter 2. Ties are decided exactly.
 *
 * @param size items in the lot
 * @param n items tested, at most `size`
 * @param k items found bad, at most n
 * @param tail probability in (0, 1)
 * @throws RangeError for counts that cannot be, or a tail outside (0, 1)
 */
export function mostBadInLot(size: number, n: number, k: number, tail: number): number {
  checkLot(size, n, k);
  checkOpenProbability("tail probability", tail);
  const possible = size - (n - k);
  // Tails fall as M rises: the first M that is too unlikely is one above the bound
  const tooMany = smallestWhole(k, (bad) => {
    return bad > possible || compareHypergeometricTail(k, { size, bad, drawn: n }, tail) <= 0;
  });
  return tooMany - 1;
}

/** The fewest bad items: the smallest M with P(X >= k) > tail. Arguments and errors as {@link mostBadInLot}. */
export function fewestBadInLot(size: number, n: number, k: number, tail: number): number {
  // The good items are at most so many, by the same rule with good and bad exchanged
  checkLot(size, n, k);
  return size - mostBadInLot(size, n, n - k, tail);
}

/** Exact two-sided interval for the number bad in the lot, (1 - level) / 2 in each tail. Errors as {@link mostBadInLot}. */
export function badInLot(size: number, n: number, k: number, level: number): Interval {
  checkOpenProbability("level", level);
  const rest = decimalOf(complement(level));
  const tail = decimalToNumber({ digits: rest.digits * 5n, scale: rest.scale + 1 });
  return { lower: fewestBadInLot(size, n, k, tail), upper: mostBadInLot(size, n, k, tail) };
}

function checkLot(size: number, n: number, k: number): void {
  checkWhole("lot size", size, 1);
  checkCounts(k, n);
  if (n > size) throw new RangeError(`n must be at most the lot size ${size} but is ${n}`);
}
