import normal from "@stdlib/stats-base-dists-normal";
import { normalQuantile } from "./normal-quantile.ts";

/** A distribution of ln(time) with location 0 and scale 1, of which a fit takes location and scale. */
export interface StandardDistribution {
  logDensity(z: number): number;
  /** Derivative of ln(density) */
  logDensitySlope(z: number): number;
  /** Second derivative of ln(density) */
  logDensityCurvature(z: number): number;
  /** ln P(a < Z <= b) for a < b, either of which may be infinite */
  logProbability(a: number, b: number): number;
  /** The z with P(Z <= z) = p, for 0 < p < 1 */
  quantile(p: number): number;
}

/** Smallest extreme value: ln(time) of a Weibull time. Source: Lawless (2003), section 1.3.2, eq. 1.3.9-1.3.11. */
export const smallestExtremeValue: StandardDistribution = {
  logDensity: (z) => z - Math.exp(z),
  logDensitySlope: (z) => 1 - Math.exp(z),
  logDensityCurvature: (z) => -Math.exp(z),
  logProbability(a, b) {
    const hazard = Math.exp(a);
    if (b === Number.POSITIVE_INFINITY) return -hazard;
    const more = a === Number.NEGATIVE_INFINITY ? Math.exp(b) : hazard * Math.expm1(b - a);
    return -hazard + Math.log(-Math.expm1(-more));
  },
  quantile: (p) => Math.log(-Math.log1p(-p)),
};

/** Standard normal: ln(time) of a lognormal time. Source: Lawless (2003), section 1.3.3. */
export const standardNormal: StandardDistribution = {
  logDensity: (z) => -0.5 * z * z - 0.5 * Math.log(2 * Math.PI),
  logDensitySlope: (z) => -z,
  logDensityCurvature: () => -1,
  logProbability(a, b) {
    // by symmetry work in the lower tail, where nothing cancels
    if (a > 0) return this.logProbability(-b, -a);
    const upper = normal.logcdf(b, 0, 1);
    if (a === Number.NEGATIVE_INFINITY) return upper;
    return upper + Math.log(-Math.expm1(normal.logcdf(a, 0, 1) - upper));
  },
  quantile: normalQuantile,
};
