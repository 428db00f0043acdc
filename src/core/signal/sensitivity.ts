/**
 * How the trip time answers to current at one multiple. `slope` is d ln t / d ln I, negative. `timeAt`, where the model has
 * one, gives times up to a constant factor; it may give Infinity below the pick-up.
 */
export interface Sensitivity {
  slope: number;
  model: string;
  timeAt?: (multiple: number) => number;
}

/** A model of the sensitivity; null where it says nothing at that multiple, for instance below its pick-up. */
export type SensitivityModel = (multiple: number, seconds: number) => Sensitivity | null;

/** No heat is lost: I^2 t is constant, the slope is -2. Right for times far below the thermal time constant. */
export function adiabatic(): SensitivityModel {
  return () => ({ slope: -2, model: "adiabatic, I²t constant" });
}

/**
 * One time constant from a cold start: t = tau ln(x^2 / (x^2 - 1)) with x = multiple / pickup, slope
 * -2 / ((x^2 - 1) ln(x^2 / (x^2 - 1))). The time constant cancels.
 *
 * Source: heat balance of a body with one time constant; the cold curve of IEC 60255-149 with k = pickup.
 *
 * @param pickup multiple of rating that would just never trip
 * @throws RangeError if `pickup` is not above zero
 */
export function firstOrderThermal(pickup: number): SensitivityModel {
  positive("pickup", pickup);
  const timeAt = (multiple: number) => {
    const squared = (multiple / pickup) ** 2;
    return squared > 1 ? -Math.log1p(-1 / squared) : Number.POSITIVE_INFINITY;
  };
  return (multiple) => {
    const time = timeAt(multiple);
    if (!Number.isFinite(time)) return null;
    const slope = -2 / (((multiple / pickup) ** 2 - 1) * time);
    return { slope, model: `one thermal time constant from cold, pick-up at ${pickup} times rating`, timeAt };
  };
}

/**
 * Inverse curve t = k / (x^exponent - 1) with x = multiple / pickup: slope -exponent x^exponent / (x^exponent - 1).
 *
 * Source: form of IEC 60255-151, from memory.
 *
 * @throws RangeError if `pickup` or `exponent` is not above zero
 */
export function inverseCurve(pickup: number, exponent: number): SensitivityModel {
  positive("pickup", pickup);
  positive("exponent", exponent);
  const power = (multiple: number) => (multiple / pickup) ** exponent;
  const timeAt = (multiple: number) =>
    power(multiple) > 1 ? 1 / (power(multiple) - 1) : Number.POSITIVE_INFINITY;
  return (multiple) => {
    if (!Number.isFinite(timeAt(multiple))) return null;
    const slope = (-exponent * power(multiple)) / (power(multiple) - 1);
    return {
      slope,
      model: `inverse curve with exponent ${exponent}, pick-up at ${pickup} times rating`,
      timeAt,
    };
  };
}

/**
 * A curve given as points of multiple and seconds, joined by straight lines in log-log space: the slope of the segment at
 * hand. Says nothing outside its points.
 *
 * @param name of the curve, for the reader
 * @throws RangeError if there are fewer than two points, multiples do not rise, or a number is not above zero
 */
export function tabulatedCurve(
  points: readonly (readonly [multiple: number, seconds: number])[],
  name: string,
): SensitivityModel {
  if (points.length < 2) throw new RangeError(`expected two points or more but found ${points.length}`);
  const logs = points.map(([multiple, seconds]) => {
    positive("multiple", multiple);
    positive("seconds", seconds);
    return { x: Math.log(multiple), y: Math.log(seconds) };
  });
  const segments = logs.slice(1).map((to, i) => {
    const from = logs[i] ?? to;
    if (!(to.x > from.x)) throw new RangeError(`expected multiples to rise but point ${i + 2} does not`);
    return { from, to, slope: (to.y - from.y) / (to.x - from.x) };
  });
  const segmentAt = (multiple: number) => {
    const x = Math.log(multiple);
    return segments.find(({ from, to }) => x >= from.x && x <= to.x);
  };
  const timeAt = (multiple: number) => {
    const segment = segmentAt(multiple);
    if (segment === undefined) return Number.POSITIVE_INFINITY;
    return Math.exp(segment.from.y + segment.slope * (Math.log(multiple) - segment.from.x));
  };
  return (multiple) => {
    const segment = segmentAt(multiple);
    if (segment === undefined) return null;
    return { slope: segment.slope, model: `${name}, straight lines in log-log`, timeAt };
  };
}

function positive(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new RangeError(`expected ${name} to be above zero but found ${value}`);
  }
}
