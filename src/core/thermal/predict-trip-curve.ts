import { twoSidedNormalQuantile } from "../stats/normal-quantile.ts";
import { solvePositive } from "../stats/solve-positive.ts";
import type { FittedTripModel } from "./fit-trip-model.ts";
import { type TripShot, tripLogLikelihood } from "./trip-log-likelihood.ts";
import { tripSeconds } from "./trip-time.ts";
import { type FittedTwoConstants, twoConstantLogLikelihood } from "./two-time-constants.ts";
import { twoConstantTripSeconds } from "./two-time-constants-trip.ts";

/** Trip times of a cold specimen by a fitted model, one entry of each list per multiple, seconds. */
export interface PredictedCurve {
  level: number;
  multiples: number[];
  median: number[];
  /** Bounds for the time of one further shot; null where the shots do not bound it. */
  lower: (number | null)[];
  upper: (number | null)[];
  words: string;
}

/** A model as a point: its likelihood and the logarithm of its median time around that point. */
interface Surface {
  at: number[];
  logLikelihood(point: readonly number[]): number;
  logMedian(point: readonly number[], multiple: number): number;
  sigma: number;
}

const at = (point: readonly number[], index: number): number => point[index] ?? Number.NaN;

function surfaceOfOne(shots: readonly TripShot[], fit: FittedTripModel): Surface {
  return {
    at: [Math.log(fit.tau), fit.pickup, Math.log(fit.sigma)],
    logLikelihood: (p) => tripLogLikelihood(shots, [at(p, 0), at(p, 1), at(p, 2)]).value,
    logMedian: (p, multiple) =>
      Math.log(tripSeconds({ tauSeconds: Math.exp(at(p, 0)), pickup: at(p, 1) }, multiple)),
    sigma: fit.sigma,
  };
}

function surfaceOfTwo(shots: readonly TripShot[], fit: FittedTwoConstants): Surface {
  const modelOf = (p: readonly number[]) => ({
    fastTauSeconds: Math.exp(at(p, 0)),
    slowTauSeconds: Math.exp(at(p, 0)) + Math.exp(at(p, 1)),
    weight: 1 / (1 + Math.exp(-at(p, 2))),
    pickup: at(p, 3),
    sigma: Math.exp(at(p, 4)),
  });
  return {
    at: [
      Math.log(fit.fastTauSeconds),
      Math.log(fit.slowTauSeconds - fit.fastTauSeconds),
      Math.log(fit.weight / (1 - fit.weight)),
      fit.pickup,
      Math.log(fit.sigma),
    ],
    logLikelihood: (p) => twoConstantLogLikelihood(shots, modelOf(p)),
    logMedian: (p, multiple) => Math.log(twoConstantTripSeconds(modelOf(p), multiple)),
    sigma: fit.sigma,
  };
}

const shifted = (point: readonly number[], index: number, by: number): number[] =>
  point.map((value, j) => (j === index ? value + by : value));

/** Steps for differences: small enough that the log-likelihood moves by less than a half. */
function stepsOf({ at: point, logLikelihood }: Surface): number[] {
  const top = logLikelihood(point);
  return point.map((_, i) => {
    let step = 1e-2;
    while (step > 1e-12) {
      const fall = Math.max(
        Math.abs(top - logLikelihood(shifted(point, i, step))),
        Math.abs(top - logLikelihood(shifted(point, i, -step))),
      );
      if (fall < 0.5) return step;
      step /= 2;
    }
    return step;
  });
}

/** Observed information: the second derivatives of -lnL by central differences. */
function information({ at: point, logLikelihood }: Surface, steps: readonly number[]): number[][] {
  const f = (i: number, a: number, j: number, b: number) =>
    logLikelihood(shifted(shifted(point, i, a), j, b));
  const top = logLikelihood(point);
  return steps.map((a, i) =>
    steps.map((b, j) =>
      i === j
        ? -(f(i, a, i, 0) - 2 * top + f(i, -a, i, 0)) / (a * a)
        : -(f(i, a, j, b) - f(i, a, j, -b) - f(i, -a, j, b) + f(i, -a, j, -b)) / (4 * a * b),
    ),
  );
}

/** Multiples from just above the pick-up to `highest`, evenly on a logarithmic scale of their excess over the pick-up. */
export function curveMultiples(pickup: number, highest: number, count = 60): number[] {
  const from = Math.log(pickup * 0.02);
  const to = Math.log(Math.max(highest - pickup, pickup * 0.1));
  return Array.from({ length: count }, (_, i) => pickup + Math.exp(from + ((to - from) * i) / (count - 1)));
}

/**
 * Predicts the trip time of a further shot from cold at each multiple, with bounds: ln t is taken as normal about the model's
 * median with the variance sigma^2 + g' V g, where V is the inverse of the observed information and g the gradient of ln t.
 *
 * Source: delta method for a location-scale model, Meeker & Escobar (1998), Statistical Methods for Reliability Data, section
 * 8.4 and chapter 12 (cited from memory).
 *
 * @param level of the bounds, above 0 and below 1
 * @param multiples above the pick-up; others are left out
 */
export function predictTripCurve(
  shots: readonly TripShot[],
  model: { one: FittedTripModel } | { two: FittedTwoConstants },
  multiples: readonly number[],
  level = 0.95,
): PredictedCurve {
  const z = twoSidedNormalQuantile(level);
  const surface = "one" in model ? surfaceOfOne(shots, model.one) : surfaceOfTwo(shots, model.two);
  const pickup = "one" in model ? model.one.pickup : model.two.pickup;
  const steps = stepsOf(surface);
  const observed = information(surface, steps);
  const kept = multiples.filter((multiple) => multiple > pickup);
  const curve: PredictedCurve = {
    level,
    multiples: kept,
    median: [],
    lower: [],
    upper: [],
    words: `median and ${Number((level * 100).toFixed(4))} % bounds for one further shot from cold, by ${"one" in model ? "one time constant" : "two time constants"}`,
  };
  for (const multiple of kept) {
    const median = surface.logMedian(surface.at, multiple);
    const gradient = steps.map((step, i) => {
      const up = surface.logMedian(shifted(surface.at, i, step / 100), multiple);
      const down = surface.logMedian(shifted(surface.at, i, -step / 100), multiple);
      return (up - down) / (step / 50);
    });
    const solved = gradient.every(Number.isFinite) ? solvePositive(observed, gradient) : null;
    const spread =
      solved === null
        ? null
        : Math.sqrt(surface.sigma ** 2 + gradient.reduce((sum, one, i) => sum + one * (solved[i] ?? 0), 0));
    curve.median.push(Math.exp(median));
    curve.lower.push(spread === null ? null : boundOrNull(median - z * spread));
    curve.upper.push(spread === null ? null : boundOrNull(median + z * spread));
  }
  return curve;
}

/** A bound that says nothing, because it lies beyond a hundred years or below a nanosecond, is none. */
function boundOrNull(logSeconds: number): number | null {
  const seconds = Math.exp(logSeconds);
  return seconds > 3e9 || seconds < 1e-9 || Number.isNaN(seconds) ? null : seconds;
}
