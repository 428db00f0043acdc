import type { Interval } from "./interval.ts";
import type { SurvivalCurve } from "./kaplan-meier.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";

/** The scale on which the limits are symmetric: ln(-ln S), ln S or S itself. */
export type SurvivalScale = "log-log" | "log" | "plain";

/**
 * Pointwise confidence limits of a survival curve from Greenwood's variance, one pair for each step.
 *
 * Log-log limits stay between 0 and 1 by themselves; the others are cut there.
 *
 * Source: Kalbfleisch J D, Prentice R L (2002) The Statistical Analysis of Failure Time Data, 2nd edition, section 1.4, eq.
 * 1.15-1.16.
 *
 * @returns null where survival is 0, for which Greenwood's variance does not exist
 * @throws RangeError if level is not in (0, 1)
 */
export function survivalLimits(
  curve: SurvivalCurve,
  level: number,
  scale: SurvivalScale,
): (Interval | null)[] {
  const z = twoSidedNormalQuantile(level);
  return curve.steps.map(({ survival, logError }) => {
    if (survival === 0) return null;
    const half = z * logError;
    if (scale === "log") {
      return { lower: survival * Math.exp(-half), upper: Math.min(1, survival * Math.exp(half)) };
    }
    if (scale === "plain") {
      return {
        lower: Math.max(0, survival - survival * half),
        upper: Math.min(1, survival + survival * half),
      };
    }
    const logSurvival = Math.log(survival);
    const factor = Math.exp(half / -logSurvival);
    return { lower: Math.exp(logSurvival * factor), upper: Math.exp(logSurvival / factor) };
  });
}
