import normal from "@stdlib/stats-base-dists-normal";

/**
 * One shot as evidence for the trip model: `tripped` at `seconds`; `held` to `seconds` without a trip (right-censored);
 * `interval`, tripped somewhere from `seconds` to `secondsUpper`. `preload` is the steady multiple carried before, 0 if cold.
 */
export interface TripShot {
  multiple: number;
  kind: "tripped" | "held" | "interval";
  seconds: number;
  secondsUpper?: number;
  preload?: number;
}

/** Parameters: natural logarithm of tau in seconds, pick-up multiple, natural logarithm of the scatter sigma of ln t. */
export type TripParameters = readonly [logTau: number, pickup: number, logSigma: number];

/** Log-likelihood with its first and second derivatives by the three parameters. */
export interface Likelihood {
  value: number;
  gradient: [number, number, number];
  hessian: [[number, number, number], [number, number, number], [number, number, number]];
}

const impossible: Likelihood = {
  value: Number.NEGATIVE_INFINITY,
  gradient: [0, 0, 0],
  hessian: [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ],
};

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);

/** ln ln((m^2 - q^2) / (m^2 - p^2)), the logarithm of time over tau, with its first two derivatives by p. */
function logTime(multiple: number, preload: number, pickup: number) {
  const gap = multiple * multiple - pickup * pickup;
  const heat = Math.log1p((pickup * pickup - preload * preload) / gap);
  const first = (2 * pickup) / gap;
  const second = 2 / gap + (4 * pickup * pickup) / (gap * gap);
  const slope = first / heat;
  return { value: Math.log(heat), slope, curvature: second / heat - slope * slope };
}

/**
 * Log-likelihood of shots under t = tau ln((m^2 - q^2) / (m^2 - p^2)) with lognormal scatter: ln t is normal about its model
 * value with standard deviation sigma. The density is that of ln t; subtract the sum of ln t of the trips for that of t. A
 * shot held at a multiple that does not exceed the pick-up contributes nothing; a trip there is impossible.
 *
 * Source: location-scale likelihood with censoring, e.g. Meeker & Escobar (1998), Statistical Methods for Reliability Data,
 * section 7.2 (cited from memory).
 */
export function tripLogLikelihood(shots: readonly TripShot[], parameters: TripParameters): Likelihood {
  const [logTau, pickup, logSigma] = parameters;
  const sigma = Math.exp(logSigma);
  if (!(pickup > 0) || !(sigma > 0) || !Number.isFinite(logTau)) return impossible;
  const sum: Likelihood = structuredCloneLikelihood(impossible);
  sum.value = 0;
  for (const shot of shots) {
    const preload = shot.preload ?? 0;
    if (preload >= pickup) return impossible;
    if (shot.multiple <= pickup) {
      if (shot.kind === "held") continue;
      return impossible;
    }
    const g = logTime(shot.multiple, preload, pickup);
    const place = (seconds: number) => {
      const z = (Math.log(seconds) - logTau - g.value) / sigma;
      return {
        z,
        d: [-1 / sigma, -g.slope / sigma, -z] as const,
        dd: [
          [0, 0, 1 / sigma],
          [0, -g.curvature / sigma, g.slope / sigma],
          [1 / sigma, g.slope / sigma, z],
        ] as const,
      };
    };
    const at = place(shot.seconds);
    if (shot.kind === "tripped") {
      sum.value += -0.5 * at.z * at.z - halfLogTwoPi - logSigma;
      sum.gradient[2] -= 1;
      add(sum, at, -at.z, -1);
    } else if (shot.kind === "held") {
      const tail = normal.logcdf(-at.z, 0, 1);
      const hazard = Math.exp(-0.5 * at.z * at.z - halfLogTwoPi - tail);
      sum.value += tail;
      add(sum, at, -hazard, -hazard * (hazard - at.z));
    } else {
      const to = place(shot.secondsUpper ?? Number.NaN);
      const mirrored = at.z > 0;
      const mass = mirrored
        ? normal.cdf(-at.z, 0, 1) - normal.cdf(-to.z, 0, 1)
        : normal.cdf(to.z, 0, 1) - normal.cdf(at.z, 0, 1);
      if (!(mass > 0)) return impossible;
      const lower = Math.exp(-0.5 * at.z * at.z - halfLogTwoPi) / mass;
      const upper = Math.exp(-0.5 * to.z * to.z - halfLogTwoPi) / mass;
      sum.value += Math.log(mass);
      const slope = [0, 1, 2].map((u) => upper * (to.d[u] ?? 0) - lower * (at.d[u] ?? 0));
      add(sum, to, upper, -to.z * upper);
      add(sum, at, -lower, at.z * lower);
      for (const u of [0, 1, 2] as const)
        for (const v of [0, 1, 2] as const) sum.hessian[u][v] -= (slope[u] ?? 0) * (slope[v] ?? 0);
    }
  }
  return sum;
}

type Place = {
  d: readonly [number, number, number];
  dd: readonly (readonly [number, number, number])[];
};

/** Adds a term h(z) with first derivative `first` and second derivative `second` by z. */
function add(sum: Likelihood, place: Place, first: number, second: number): void {
  for (const u of [0, 1, 2] as const) {
    sum.gradient[u] += first * place.d[u];
    for (const v of [0, 1, 2] as const)
      sum.hessian[u][v] += second * place.d[u] * place.d[v] + first * (place.dd[u]?.[v] ?? 0);
  }
}

function structuredCloneLikelihood(from: Likelihood): Likelihood {
  const [a, b, c] = from.hessian;
  return { value: from.value, gradient: [...from.gradient], hessian: [[...a], [...b], [...c]] };
}
