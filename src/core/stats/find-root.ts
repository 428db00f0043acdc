/**
 * The root of a continuous function inside a bracket, to the last digits of a double.
 *
 * Brent's method: inverse quadratic interpolation and secant steps, with bisection whenever they do not help, so the
 * bracket always holds the root. Infinite values at the ends are allowed: their sign alone is used.
 *
 * Source: Brent R P (1973) Algorithms for Minimization without Derivatives, chapter 4.
 *
 * @param f the function; its values at `low` and `high` must differ in sign, or one of them be 0
 * @throws RangeError if the signs at the two ends agree or a value is not a number
 */
export function findRoot(f: (x: number) => number, low: number, high: number): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(Math.sign(fa) * Math.sign(fb) < 0)) {
    throw new RangeError(
      `no sign change between ${low} and ${high}: found ${fa} and ${fb}; a root needs values of opposite sign`,
    );
  }
  let c = a;
  let fc = fa;
  let step = b - a;
  let before = step;
  for (let iteration = 0; iteration < 400; iteration += 1) {
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const tolerance = Number.EPSILON * Math.abs(b) + Number.MIN_VALUE;
    const half = (c - b) / 2;
    if (Math.abs(half) <= tolerance || fb === 0) return b;
    const proposed = Math.abs(before) > tolerance ? interpolate(a, b, c, fa, fb, fc) : Number.NaN;
    if (
      Number.isFinite(proposed) &&
      Math.sign(proposed) === Math.sign(half) &&
      Math.abs(proposed) < Math.min(1.5 * Math.abs(half), Math.abs(before) / 2)
    ) {
      before = step;
      step = proposed;
    } else {
      before = half;
      step = half;
    }
    a = b;
    fa = fb;
    b += Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance;
    fb = f(b);
    if (Math.sign(fb) === Math.sign(fc)) {
      c = a;
      fc = fa;
      step = b - a;
      before = step;
    }
  }
  return b;
}

/** The step from `b` that inverse quadratic interpolation (or the secant, with two points) proposes. */
function interpolate(a: number, b: number, c: number, fa: number, fb: number, fc: number): number {
  const s = fb / fa;
  if (a === c) return ((c - b) * s) / (1 - s);
  const q = fa / fc;
  const r = fb / fc;
  return (s * ((c - b) * q * (q - r) - (b - a) * (r - 1))) / (-1 * (q - 1) * (r - 1) * (s - 1));
}
