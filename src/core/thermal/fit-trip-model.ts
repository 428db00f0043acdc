import chisquare from "@stdlib/stats-base-dists-chisquare";
import { solvePositive } from "../stats/solve-positive.ts";
import { climb, type Summit } from "./_climb.ts";
import type { TripParameters, TripShot } from "./trip-log-likelihood.ts";

/** Bounds of a parameter at a level; null on a side on which the data do not bound it. */
export interface ParameterBounds {
  lower: number | null;
  upper: number | null;
}

/** A fitted trip model. Times in seconds; `logLikelihood` is that of ln t. */
export interface FittedTripModel {
  estimable: true;
  tau: number;
  pickup: number;
  sigma: number;
  seLogTau: number | null;
  /** Null where the pick-up was given, not fitted. */
  sePickup: number | null;
  seLogSigma: number | null;
  logLikelihood: number;
  /** Profile-likelihood bounds of tau and pick-up. */
  bounds: { level: number; tau: ParameterBounds; pickup: ParameterBounds };
  /** Whether the data determine both parameters; if not, which further shot would. */
  determined: boolean;
  advice: string | null;
}

/** Why nothing could be fitted, and which further shot would help. */
export interface UnfittedTripModel {
  estimable: false;
  advice: string;
}

/**
 * Fits t = tau ln((m^2 - q^2) / (m^2 - p^2)) with lognormal scatter by maximum likelihood to tripped, held and interval shots.
 *
 * Standard errors come from the observed information, bounds from the profile likelihood (half the chi-squared quantile with
 * one degree of freedom below the maximum).
 *
 * Source of method: Meeker & Escobar (1998), Statistical Methods for Reliability Data, chapters 7 and 8 (from memory).
 * Checked against tests/fixtures/reference/thermal-ml.json (R 4.2.2, stats::optim, Newton-polished).
 *
 * @param options.pickup holds the pick-up at this value; `level` of the bounds, 0.95 if left out
 * @throws RangeError naming the shot and what is wrong with it
 */
export function fitTripModel(
  shots: readonly TripShot[],
  options: { pickup?: number | undefined; level?: number } = {},
): FittedTripModel | UnfittedTripModel {
  shots.forEach(checkShot);
  const level = options.level ?? 0.95;
  if (!(level > 0 && level < 1)) throw new RangeError(`level must lie between 0 and 1 but is ${level}`);
  const fixed = options.pickup;
  if (fixed !== undefined && !(fixed > 0)) throw new RangeError(`pick-up must be above 0 but is ${fixed}`);
  const trips = shots.filter((shot) => shot.kind !== "held");
  if (trips.length === 0) {
    return {
      estimable: false,
      advice: "No shot tripped: one at a higher multiple that does is needed.",
    };
  }
  const lowest = Math.min(...trips.map((shot) => shot.multiple));
  const preload = Math.max(0, ...shots.map((shot) => shot.preload ?? 0));
  if (fixed !== undefined && (fixed >= lowest || fixed <= preload)) {
    return {
      estimable: false,
      advice: `The pick-up ${fixed} is impossible: a shot tripped at ${lowest} times rating, and the highest pre-load is ${preload}.`,
    };
  }
  const best = summit(shots, fixed, preload, lowest);
  if (best === null || Math.exp(best.parameters[2]) < 1e-9) {
    return {
      estimable: false,
      advice:
        trips.length < 3
          ? "Too few shots tripped to tell scatter from the model: repeat shots are needed."
          : adviceFor(trips, lowest),
    };
  }
  const free: (0 | 1 | 2)[] = fixed === undefined ? [0, 1, 2] : [0, 2];
  const errors = standardErrors(best, free);
  const [logTau, pickup, logSigma] = best.parameters;
  const sePickup = fixed === undefined ? (errors?.[1] ?? null) : null;
  const seLogTau = errors?.[0] ?? null;
  const determined =
    errors !== null && seLogTau !== null && seLogTau < 0.5 && (fixed !== undefined || (sePickup ?? 1) < 0.25);
  const drop = chisquare.quantile(level, 1) / 2;
  return {
    estimable: true,
    tau: Math.exp(logTau),
    pickup,
    sigma: Math.exp(logSigma),
    seLogTau,
    sePickup,
    seLogSigma: errors?.[free.length - 1] ?? null,
    logLikelihood: best.likelihood.value,
    bounds: {
      level,
      tau: profileBounds(shots, best, 0, fixed === undefined ? [1, 2] : [2], drop, -40, 40, Math.exp),
      pickup:
        fixed === undefined
          ? profileBounds(shots, best, 1, [0, 2], drop, Math.max(preload, 1e-3), lowest, (value) => value)
          : { lower: null, upper: null },
    },
    determined,
    advice: determined ? null : adviceFor(trips, lowest),
  };
}

function checkShot(shot: TripShot, index: number): void {
  const refuse = (what: string): never => {
    throw new RangeError(`shot ${index + 1}: ${what}`);
  };
  if (!(shot.multiple > 0 && Number.isFinite(shot.multiple)))
    refuse(`multiple must be above 0 but is ${shot.multiple}`);
  if (!(shot.seconds > 0 && Number.isFinite(shot.seconds)))
    refuse(`seconds must be above 0 but is ${shot.seconds}`);
  if (
    shot.kind === "interval" &&
    !((shot.secondsUpper ?? 0) > shot.seconds && Number.isFinite(shot.secondsUpper))
  )
    refuse(`seconds_upper must be above ${shot.seconds} but is ${shot.secondsUpper}`);
  const preload = shot.preload ?? 0;
  if (!(preload >= 0 && Number.isFinite(preload))) refuse(`preload must be 0 or more but is ${preload}`);
  if (shot.kind !== "held" && preload >= shot.multiple)
    refuse(`preload ${preload} must be below the multiple ${shot.multiple} of a shot that tripped`);
}

/** The highest summit found from a grid of pick-ups. */
function summit(
  shots: readonly TripShot[],
  fixed: number | undefined,
  preload: number,
  lowest: number,
): Summit | null {
  const shares = [0.02, 0.1, 0.25, 0.4, 0.55, 0.7, 0.8, 0.88, 0.94, 0.97, 0.99, 0.997, 0.9995, 0.99999];
  const pickups = fixed === undefined ? shares.map((share) => preload + share * (lowest - preload)) : [fixed];
  const onGrid = pickups
    .map((pickup) => climb(shots, firstGuess(shots, pickup), [0, 2]))
    .filter((one) => Number.isFinite(one.likelihood.value))
    .sort((a, b) => b.likelihood.value - a.likelihood.value);
  if (fixed !== undefined) return onGrid.find((one) => one.converged) ?? null;
  return (
    onGrid
      .slice(0, 6)
      .map((one) => climb(shots, one.parameters, [0, 1, 2]))
      .filter((one) => one.converged && one.parameters[1] > 0)
      .sort((a, b) => b.likelihood.value - a.likelihood.value)[0] ?? null
  );
}

function firstGuess(shots: readonly TripShot[], pickup: number): TripParameters {
  const logs = shots.flatMap((shot) => {
    if (shot.kind === "held") return [];
    const q = shot.preload ?? 0;
    const heat = Math.log1p((pickup ** 2 - q ** 2) / (shot.multiple ** 2 - pickup ** 2));
    return [Math.log(shot.seconds) - Math.log(heat)];
  });
  const mean = logs.reduce((sum, one) => sum + one, 0) / logs.length;
  const spread = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / logs.length);
  return [mean, pickup, Math.log(Math.max(spread, 0.02))];
}

/** Standard errors of the free parameters from the observed information; null where it is not positive definite. */
function standardErrors(best: Summit, free: readonly (0 | 1 | 2)[]): number[] | null {
  const information = free.map((u) => free.map((v) => -best.likelihood.hessian[u][v]));
  const errors: number[] = [];
  for (let i = 0; i < free.length; i += 1) {
    const column = solvePositive(
      information,
      free.map((_, j) => (i === j ? 1 : 0)),
    );
    const variance = column?.[i];
    if (variance === undefined || !(variance > 0)) return null;
    errors.push(Math.sqrt(variance));
  }
  return errors;
}

function profileBounds(
  shots: readonly TripShot[],
  best: Summit,
  which: 0 | 1,
  free: readonly (0 | 1 | 2)[],
  drop: number,
  least: number,
  most: number,
  show: (value: number) => number,
): ParameterBounds {
  const wanted = best.likelihood.value - drop;
  const centre = best.parameters[which];
  const side = (end: number): number | null => {
    let inside = best.parameters;
    /** Likelihood above the wanted level at `value`, climbing from the nearest point already known to be inside. */
    const above = (value: number): boolean => {
      const start = [...inside] as [number, number, number];
      start[which] = value;
      const there = climb(shots, which === 1 ? withPickup(shots, start, value) : start, free);
      if (!(there.likelihood.value > wanted)) return false;
      inside = there.parameters;
      return true;
    };
    let near = centre;
    let far: number | null = null;
    let stride = Math.max(1e-3 * Math.abs(centre), 1e-4);
    for (let i = 0; i < 80 && far === null; i += 1) {
      const room = Math.abs(end - near);
      const next = stride < room ? near + Math.sign(end - centre) * stride : near + (end - near) * 0.9;
      if (room < 1e-9 * Math.max(1, Math.abs(centre))) return null;
      if (above(next)) near = next;
      else far = next;
      stride *= 1.6;
    }
    if (far === null) return null;
    let outside = far;
    for (let i = 0; i < 60; i += 1) {
      const middle = (near + outside) / 2;
      if (above(middle)) near = middle;
      else outside = middle;
    }
    return show((near + outside) / 2);
  };
  return { lower: side(least), upper: side(most) };
}

/** A start at another pick-up that keeps the typical time: tau follows the pick-up along the ridge. */
function withPickup(shots: readonly TripShot[], start: TripParameters, pickup: number): TripParameters {
  const guess = firstGuess(shots, pickup);
  return [guess[0], pickup, Math.max(guess[2], start[2])];
}

function adviceFor(trips: readonly TripShot[], lowest: number): string {
  const multiples = new Set(trips.map((shot) => shot.multiple));
  if (multiples.size === 1) {
    return `All trips are at ${lowest} times rating: a shot at another multiple would tell tau from pick-up.`;
  }
  if (lowest > 1.6) {
    return `The lowest trip is at ${lowest} times rating, where only tau times pick-up squared shows: a shot nearer to the pick-up, such as at 1.35 times rating, would tell them apart.`;
  }
  return "The shots scatter too much, or are too few, to bound both parameters: repeats at the lowest and the highest multiple would help most.";
}
