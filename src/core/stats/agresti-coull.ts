import { checkCounts } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";

/**
 * Agresti-Coull interval: z²/2 added to both outcomes (not 2), then the simple normal interval, clipped to [0, 1].
 *
 * Source: Agresti A, Coull B A (1998) Am Stat 52:119-126; Brown, Cai & DasGupta (2001) Stat Sci 16:101-133, equation 5.
 *
 * @returns the interval and its centre before clipping
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function agrestiCoull(k: number, n: number, level: number): Interval & { centre: number } {
  checkCounts(k, n);
  const z = twoSidedNormalQuantile(level);
  const total = n + z * z;
  const centre = (k + (z * z) / 2) / total;
  const complement = (n - k + (z * z) / 2) / total;
  const half = z * Math.sqrt((centre * complement) / total);
  return { centre, lower: Math.max(0, centre - half), upper: Math.min(1, centre + half) };
}
