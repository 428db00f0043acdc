import { pairedDifferences } from "./bland-altman.ts";

/** How far two measurements of one thing by one method lie apart. */
export interface Repeatability {
  withinStandardDeviation: number;
  /** 1.96 √2 times that: exceeded by the difference of two measurements once in twenty times */
  limit: number;
}

/**
 * Repeatability from duplicates: within-thing standard deviation √(Σ d² / 2n).
 *
 * Source: Bland J M, Altman D G (1986) Lancet i:307-310, section on repeatability; ISO 5725-6:1994, 4.1.4 for the limit (from
 * memory).
 *
 * @throws RangeError for lists of different length, empty lists, or values that are not finite
 */
export function repeatability(first: readonly number[], second: readonly number[]): Repeatability {
  const differences = pairedDifferences(first, second);
  if (differences.length === 0) throw new RangeError("pairs must be one or more but there are none");
  const squares = differences.reduce((sum, d) => sum + d * d, 0);
  const withinStandardDeviation = Math.sqrt(squares / (2 * differences.length));
  return { withinStandardDeviation, limit: 1.96 * Math.SQRT2 * withinStandardDeviation };
}
