import { climbLikelihood, type LikelihoodPoint } from "./climb-likelihood.ts";
import { checkEventIntervals, type EventInterval } from "./event-interval.ts";
import { solvePositive } from "./solve-positive.ts";
import type { StandardDistribution } from "./standard-distribution.ts";

/** Location and scale of ln(time) by maximum likelihood. */
export interface LocationScaleFit {
  location: number;
  scale: number;
  /** From the observed information in (location, ln scale) */
  locationError: number;
  logScaleError: number;
  /** Of the times, so with the 1/t of each exact one */
  logLikelihood: number;
  /** The time before which a share p of the specimens has the event */
  timeAt(p: number): number;
}

/**
 * Why a likelihood has no finite maximum: all observations agree with one single time (`one-time`: all exact times equal,
 * or all censored on one side), so that the scale would go to 0; or only left- and right-censored times, the left-censored
 * not the longer ones (`no-order`), so that the scale would grow without end.
 */
export type NoFit = "one-time" | "no-order";

/**
 * Fit of a location-scale model of ln(time) to exact, right-, left- and interval-censored times by maximum likelihood.
 *
 * In (location / scale, 1 / scale) the log-likelihood is concave for log-concave densities, so its maximum is the only one
 * and damped Newton steps find it; whether it exists is known from the data beforehand.
 *
 * Source: Burridge J (1981) JRSS B 43:41-45 (concavity); Lawless J F (2003) Statistical Models and Methods for Lifetime
 * Data, 2nd edition, section 5.1, eq. 5.1.2 (likelihood) and 5.1.5-5.1.9 (derivatives).
 *
 * @throws RangeError for no observations, or bounds that hold no positive time
 */
export function fitLocationScale(
  intervals: readonly EventInterval[],
  distribution: StandardDistribution,
): LocationScaleFit | NoFit {
  const why = whyNoFit(intervals);
  if (why !== null) return why;
  const points = intervals.map(({ lower, upper }) => ({
    low: Math.log(Math.max(0, lower)),
    high: Math.log(upper),
  }));
  const finite = points.flatMap(({ low, high }) => [low, high]).filter(Number.isFinite);
  const centre = finite.reduce((sum, y) => sum + y, 0) / finite.length;
  const spread = Math.sqrt(finite.reduce((sum, y) => sum + (y - centre) ** 2, 0) / finite.length);
  const scaled = points.map(({ low, high }) => ({
    low: (low - centre) / spread,
    high: (high - centre) / spread,
  }));
  const exact = points.filter(({ low, high }) => low === high);
  const jacobian = exact.reduce((sum, { low }) => sum + low + Math.log(spread), 0);
  const summit = climbLikelihood(
    ([shift = 0, slope = 1]) => concaveLikelihood(scaled, distribution, shift, slope),
    [0, 1],
  );
  const [shift = 0, slope = 1] = summit.parameters;
  const location = centre + (spread * shift) / slope;
  const scale = spread / slope;
  const [locationVariance, logScaleVariance] = variances(summit, shift, slope);
  return {
    location,
    scale,
    locationError: spread * Math.sqrt(locationVariance),
    logScaleError: Math.sqrt(logScaleVariance),
    logLikelihood: summit.value - jacobian,
    timeAt: (p) => Math.exp(location + scale * distribution.quantile(p)),
  };
}

/**
 * Why there is no finite maximum, or null where there is one.
 *
 * @throws RangeError for no observations, or bounds that hold no positive time
 */
export function whyNoFit(intervals: readonly EventInterval[]): NoFit | null {
  checkEventIntervals(intervals);
  const highestLower = intervals.reduce((most, { lower }) => Math.max(most, lower), 0);
  const lowestUpper = intervals.reduce(
    (least, { upper }) => Math.min(least, upper),
    Number.POSITIVE_INFINITY,
  );
  if (highestLower <= lowestUpper) return "one-time";
  const left = intervals.filter(({ lower }) => lower <= 0);
  const right = intervals.filter(({ lower, upper }) => lower > 0 && upper === Number.POSITIVE_INFINITY);
  const unknown = intervals.filter(({ lower, upper }) => lower <= 0 && upper === Number.POSITIVE_INFINITY);
  const bounded = left.filter(({ upper }) => upper < Number.POSITIVE_INFINITY);
  if (bounded.length + right.length + unknown.length < intervals.length) return null;
  const meanLeft = bounded.reduce((sum, { upper }) => sum + Math.log(upper), 0) / bounded.length;
  const meanRight = right.reduce((sum, { lower }) => sum + Math.log(lower), 0) / right.length;
  return meanLeft <= meanRight ? "no-order" : null;
}

/** Log-likelihood of ln(time) with z = slope * y - shift, and its derivatives by shift and slope. */
function concaveLikelihood(
  points: readonly { low: number; high: number }[],
  distribution: StandardDistribution,
  shift: number,
  slope: number,
): LikelihoodPoint {
  let [value, byShift, bySlope, shiftShift, shiftSlope, slopeSlope] = [0, 0, 0, 0, 0, 0];
  const add = (first: number, second: number, y: number, otherY = y) => {
    byShift -= first;
    bySlope += first * y;
    shiftShift += second;
    shiftSlope -= (second * (y + otherY)) / 2;
    slopeSlope += second * y * otherY;
  };
  if (!(slope > 0)) value = Number.NEGATIVE_INFINITY;
  for (const { low, high } of points) {
    if (low === high) {
      const z = slope * low - shift;
      value += distribution.logDensity(z) + Math.log(slope);
      add(distribution.logDensitySlope(z), distribution.logDensityCurvature(z), low);
      bySlope += 1 / slope;
      slopeSlope -= 1 / slope / slope;
      continue;
    }
    const [from, to] = [slope * low - shift, slope * high - shift];
    const log = distribution.logProbability(from, to);
    value += log;
    const atFrom = Number.isFinite(from) ? -Math.exp(distribution.logDensity(from) - log) : 0;
    const atTo = Number.isFinite(to) ? Math.exp(distribution.logDensity(to) - log) : 0;
    if (atFrom !== 0) {
      add(atFrom, atFrom * distribution.logDensitySlope(from) - atFrom * atFrom, low);
    }
    if (atTo !== 0) add(atTo, atTo * distribution.logDensitySlope(to) - atTo * atTo, high);
    if (atFrom !== 0 && atTo !== 0) add(0, -2 * atFrom * atTo, low, high);
  }
  return {
    value: Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value,
    gradient: [byShift, bySlope],
    hessian: [
      [shiftShift, shiftSlope],
      [shiftSlope, slopeSlope],
    ],
  };
}

/** Variances of location = shift / slope and of ln scale = -ln slope, by the derivatives of the two at the maximum. */
function variances({ hessian }: LikelihoodPoint, shift: number, slope: number): [number, number] {
  const information = hessian.map((row) => row.map((value) => -value));
  const along = (byShift: number, bySlope: number) => {
    const solved = solvePositive(information, [byShift, bySlope]);
    return byShift * (solved?.[0] ?? Number.NaN) + bySlope * (solved?.[1] ?? Number.NaN);
  };
  return [along(1 / slope, -shift / slope / slope), along(0, -1 / slope)];
}
