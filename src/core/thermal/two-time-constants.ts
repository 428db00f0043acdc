import normal from "@stdlib/stats-base-dists-normal";
import { climbSimplex } from "./_nelder-mead.ts";
import type { FittedTripModel, UnfittedTripModel } from "./fit-trip-model.ts";
import type { TripShot } from "./trip-log-likelihood.ts";
import { type TwoTimeConstants, twoConstantTripSeconds } from "./two-time-constants-trip.ts";

/** A fitted model of two time constants; `logLikelihood` is that of ln t, as of the model of one. */
export interface FittedTwoConstants extends TwoTimeConstants {
  sigma: number;
  logLikelihood: number;
}

/** How many time constants the shots call for, and by what criterion. AICc values are null where a model was not fitted. */
export interface ChosenTimeConstants {
  timeConstants: 1 | 2;
  aiccOne: number | null;
  aiccTwo: number | null;
  two: FittedTwoConstants | null;
  /** Criterion and reason, in a sentence. */
  criterion: string;
}

/** Trips that two time constants need at least: one more than AICc of five parameters needs to be defined, and one to spare. */
export const fewestTrips = 8;
/** Trips among them that must lie near the pick-up, where alone the slow part shows. */
export const fewestNearPickup = 3;
/**
 * Near the pick-up: up to this multiple of rating. Our own choice; a fitted pick-up is no measure, for it is wrong exactly where
 * a second constant is overlooked.
 */
export const nearPickup = 1.6;
/** By how much AICc must be lower before the second constant is taken. */
export const neededGain = 2;

/** Shapes beyond a ratio of 400 or a share of a hundredth are of one constant in disguise. */
const largestLogRatio = Math.log(400);
const largestLogit = Math.log(99);

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);

/** ln fast tau, ln(slow over fast), logit of the weight, pick-up, ln sigma. */
type Point = readonly number[];

function modelAt(point: Point): FittedTwoConstants {
  const [logFast = 0, logRatio = 0, logit = 0, pickup = 1, logSigma = 0] = point;
  const fastTauSeconds = Math.exp(logFast);
  return {
    fastTauSeconds,
    slowTauSeconds: fastTauSeconds * Math.exp(logRatio),
    weight: 1 / (1 + Math.exp(-logit)),
    pickup,
    sigma: Math.exp(logSigma),
    logLikelihood: Number.NaN,
  };
}

/**
 * Log-likelihood of ln t under two time constants with lognormal scatter: as `tripLogLikelihood` for one. Shots held at a
 * multiple that does not exceed the pick-up contribute nothing; a trip there is impossible.
 */
export function twoConstantLogLikelihood(
  shots: readonly TripShot[],
  model: TwoTimeConstants & { sigma: number },
): number {
  let sum = 0;
  for (const shot of shots) {
    const preload = shot.preload ?? 0;
    if (preload >= model.pickup) return Number.NEGATIVE_INFINITY;
    if (shot.multiple <= model.pickup) {
      if (shot.kind === "held") continue;
      return Number.NEGATIVE_INFINITY;
    }
    const median = Math.log(twoConstantTripSeconds(model, shot.multiple, preload));
    const z = (Math.log(shot.seconds) - median) / model.sigma;
    if (shot.kind === "tripped") sum += -0.5 * z * z - halfLogTwoPi - Math.log(model.sigma);
    else if (shot.kind === "held") sum += normal.logcdf(-z, 0, 1);
    else {
      const upper = (Math.log(shot.secondsUpper ?? Number.NaN) - median) / model.sigma;
      const mass =
        z > 0
          ? normal.cdf(-z, 0, 1) - normal.cdf(-upper, 0, 1)
          : normal.cdf(upper, 0, 1) - normal.cdf(z, 0, 1);
      sum += mass > 0 ? Math.log(mass) : Number.NEGATIVE_INFINITY;
    }
  }
  return sum;
}

/**
 * Fits two time constants by maximum likelihood, climbing from several shapes around the model of one.
 *
 * @returns null where no climb found a summit inside: the shots do not tell the two apart
 */
export function fitTwoTimeConstants(
  shots: readonly TripShot[],
  one: Pick<FittedTripModel, "tau" | "pickup" | "sigma">,
): FittedTwoConstants | null {
  const lowest = Math.min(...shots.filter((shot) => shot.kind !== "held").map((shot) => shot.multiple));
  const height = (point: Point): number => {
    const [logFast = 0, logRatio = 0, logit = 0, pickup = 0, logSigma = 0] = point;
    if (
      !(
        logRatio > 0 &&
        logRatio < largestLogRatio &&
        Math.abs(logit) < largestLogit &&
        Math.abs(logFast) < 30
      )
    )
      return Number.NEGATIVE_INFINITY;
    if (!(pickup > 0 && pickup < lowest && logSigma > -18)) return Number.NEGATIVE_INFINITY;
    return twoConstantLogLikelihood(shots, modelAt(point));
  };
  const strides = [0.3, 0.4, 0.6, -0.02 * lowest, 0.3];
  const starts = [0.3, 0.5, 0.7].flatMap((weight) =>
    [3, 8, 20].map((ratio) => {
      const pickup = Math.min(one.pickup, lowest * 0.98);
      const fast = one.tau / Math.sqrt(ratio);
      return [Math.log(fast), Math.log(ratio), Math.log(weight / (1 - weight)), pickup, Math.log(one.sigma)];
    }),
  );
  const rough = starts
    .map((start) => climbSimplex(height, start, strides, 1e-7, 600))
    .filter((end) => Number.isFinite(end.value))
    .sort((a, b) => b.value - a.value)
    .slice(0, 2);
  // A simplex can close before the summit: it is opened again there until nothing is gained.
  const fine = rough.map((end) => {
    let best = end;
    for (let again = 0; again < 6; again += 1) {
      const next = climbSimplex(height, best.point, strides, 1e-12, 2000);
      const gained = next.value - best.value;
      best = next;
      if (gained < 1e-9) break;
    }
    return best;
  });
  const best = fine.sort((a, b) => b.value - a.value)[0];
  if (best === undefined) return null;
  const [, logRatio = 0, logit = 0] = best.point;
  const inside = logRatio > 0.05 && logRatio < largestLogRatio - 0.1 && Math.abs(logit) < largestLogit - 0.1;
  if (!best.converged || !inside) return null;
  return { ...modelAt(best.point), logLikelihood: best.value };
}

/**
 * Akaike's criterion with the correction for few data, AICc = -2 lnL + 2k + 2k(k + 1)/(n - k - 1); null where n does not exceed
 * k + 1.
 *
 * Source: Hurvich & Tsai (1989), Regression and time series model selection in small samples, Biometrika 76 (from memory).
 */
export function aicc(logLikelihood: number, parameters: number, data: number): number | null {
  const spare = data - parameters - 1;
  if (!(spare > 0)) return null;
  return -2 * logLikelihood + 2 * parameters + (2 * parameters * (parameters + 1)) / spare;
}

/**
 * Whether the shots call for a second time constant: at least 8 trips, 3 of them up to 1.6 times rating, and AICc lower by
 * more than 2 than with one. Only trips (with intervals) count as data for AICc. The numbers are our own choice.
 */
export function chooseTimeConstants(
  shots: readonly TripShot[],
  one: FittedTripModel | UnfittedTripModel,
): ChosenTimeConstants {
  const none = { timeConstants: 1, aiccOne: null, aiccTwo: null, two: null } as const;
  if (!one.estimable) return { ...none, criterion: "No model was fitted, so that none could be chosen." };
  const trips = shots.filter((shot) => shot.kind !== "held");
  const aiccOne = aicc(one.logLikelihood, 3, trips.length);
  const near = trips.filter((shot) => shot.multiple <= nearPickup).length;
  const rule = `a second one is tried from ${fewestTrips} trips on, ${fewestNearPickup} of them up to ${nearPickup} times rating, and taken where it lowers AICc by more than ${neededGain}`;
  if (trips.length < fewestTrips || near < fewestNearPickup) {
    return {
      ...none,
      aiccOne,
      criterion: `One time constant, for want of shots: ${rule}; there are ${trips.length} trips, ${near} of them near the pick-up.`,
    };
  }
  const two = fitTwoTimeConstants(shots, one);
  const aiccTwo = two === null ? null : aicc(two.logLikelihood, 5, trips.length);
  if (two === null || aiccOne === null || aiccTwo === null) {
    return { ...none, aiccOne, criterion: `One time constant: ${rule}; the shots do not tell two apart.` };
  }
  const taken = aiccTwo < aiccOne - neededGain;
  return {
    timeConstants: taken ? 2 : 1,
    aiccOne,
    aiccTwo,
    two,
    criterion: `${taken ? "Two time constants" : "One time constant"}: ${rule}; AICc is ${aiccOne.toFixed(2)} with one and ${aiccTwo.toFixed(2)} with two.`,
  };
}
