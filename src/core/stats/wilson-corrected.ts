import { checkCounts } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";

/**
 * Wilson's score interval with continuity correction of 1/(2n), uncurbed where k is within one half of n/2.
 *
 * Source: Newcombe R G (1998) Stat Med 17:857-872, method 4; the lower limit is rationalised, so that small ones keep their
 * digits. By definition the lower limit is 0 at k = 0 and the upper 1 at k = n.
 *
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function wilsonCorrected(k: number, n: number, level: number): Interval {
  checkCounts(k, n);
  const z = twoSidedNormalQuantile(level);
  return { lower: lowerLimit(k, n, z), upper: upperLimit(k, n, z) };
}

function lowerLimit(k: number, n: number, z: number): number {
  if (k === 0) return 0;
  // The two factors (2k + z² - 1 ∓ z √…) multiply to (2k - 1)² (1 + z²/n)
  const root = Math.sqrt(z * z - 2 - 1 / n + 4 * k * ((n - k + 1) / n));
  return (2 * k - 1) ** 2 / (2 * n * (2 * k + z * z - 1 + z * root));
}

function upperLimit(k: number, n: number, z: number): number {
  if (k === n) return 1;
  const root = Math.sqrt(z * z + 2 - 1 / n + 4 * k * ((n - k - 1) / n));
  return Math.min(1, (2 * k + z * z + 1 + z * root) / (2 * (n + z * z)));
}
