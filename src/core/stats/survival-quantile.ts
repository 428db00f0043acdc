import type { SurvivalCurve } from "./kaplan-meier.ts";
import { type SurvivalScale, survivalLimits } from "./survival-limits.ts";

/** How near a level a curve must come to be taken as lying on it, as in the reference values. */
const onLevel = 1.5e-8;

/**
 * The time by which a share of the specimens has had the event.
 *
 * The earliest time at which survival is at most 1 - share; where it lies on 1 - share for a while, the middle of that
 * stretch, which for the last step ends at the longest time watched.
 *
 * Source: Miller R G (1981) Survival Analysis, section 3.2 (median); the middle of a flat stretch is the convention of
 * survfit, of the survival package for R.
 *
 * @param share above 0 and below 1: 0.5 for the median
 * @returns null where the curve does not come down so far
 */
export function survivalQuantile(curve: SurvivalCurve, share: number): number | null {
  checkShare(share);
  return crossing(
    curve,
    curve.steps.map(({ survival }) => survival),
    share,
  );
}

/**
 * Confidence limits of {@link survivalQuantile}: the times at which the pointwise limits of the curve cross 1 - share.
 *
 * Source: Brookmeyer R, Crowley J (1982) Biometrics 38:29-41, with limits on the scale given.
 *
 * @returns each null where the limit of the curve does not come down so far
 * @throws RangeError if share or level is not in (0, 1)
 */
export function survivalQuantileLimits(
  curve: SurvivalCurve,
  share: number,
  level: number,
  scale: SurvivalScale,
): { lower: number | null; upper: number | null } {
  checkShare(share);
  const limits = survivalLimits(curve, level, scale);
  return {
    lower: crossing(
      curve,
      limits.map((limit) => limit?.lower ?? null),
      share,
    ),
    upper: crossing(
      curve,
      limits.map((limit) => limit?.upper ?? null),
      share,
    ),
  };
}

/** `heights` are of the curve or of its limit, one for each step; null where there is none. */
function crossing(curve: SurvivalCurve, heights: readonly (number | null)[], share: number): number | null {
  const level = 1 - share;
  const { steps, lastTime } = curve;
  const reached = heights.findIndex((height) => height !== null && height <= level + onLevel);
  const passed = heights.findIndex((height) => height !== null && height < level - onLevel);
  const start = steps[reached]?.time;
  if (start === undefined) return null;
  if (passed >= 0) return (start + (steps[passed]?.time ?? start)) / 2;
  return heights.at(-1) === null ? null : (start + lastTime) / 2;
}

function checkShare(share: number): void {
  if (!(share > 0 && share < 1)) throw new RangeError(`share must be above 0 and below 1 but is ${share}`);
}
