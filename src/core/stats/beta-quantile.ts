import { incompleteBeta } from "./incomplete-beta.ts";

/**
 * The x of a beta distribution below which (or, for `tail` "upper", above which) the probability `p` lies.
 *
 * Newton's method on the logarithm of the tail as a function of ln(x / (1 - x)). The density of that variable is
 * log-concave, hence so is either tail, and the iteration converges from any start. Tails and x keep their relative
 * accuracy however small they are; a tail of more than one half is solved from the other side.
 *
 * Source of the log-concavity: Bagnoli M, Bergstrom T (2005) Economic Theory 26:445-469, theorems 1 and 3.
 *
 * @param p probability of the named tail, in [0, 1]
 * @param a, b shapes, above 0
 * @throws RangeError if p is outside [0, 1] or a shape is not above 0
 */
export function betaQuantile(p: number, a: number, b: number, tail: "lower" | "upper" = "lower"): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`probability must be in [0, 1] but is ${p}`);
  if (!(a > 0 && b > 0 && Number.isFinite(a + b))) {
    throw new RangeError(`shapes must be finite and above 0 but are ${a} and ${b}`);
  }
  if (p > 0.5) return betaQuantile(1 - p, a, b, tail === "lower" ? "upper" : "lower");
  if (p === 0) return tail === "lower" ? 0 : 1;
  const direction = tail === "lower" ? 1 : -1;
  const target = Math.log(p);
  let logit = firstLogit(target, a, b, direction);
  let x = 1 / (1 + Math.exp(-logit));
  for (let iteration = 0; iteration < 100; iteration += 1) {
    const y = 1 / (1 + Math.exp(logit));
    const tails = incompleteBeta(x, y, a, b);
    const logTail = tail === "lower" ? tails.logLower : tails.logUpper;
    const step = (direction * (target - logTail)) / Math.exp(tails.logSlope - logTail);
    // Beyond ±700 the exponential leaves the range of doubles
    logit = Math.min(700, Math.max(-700, logit + step));
    x = 1 / (1 + Math.exp(-logit));
    if (Math.abs(step) <= 4 * Number.EPSILON * Math.max(1, Math.abs(logit) / 8)) break;
  }
  return x;
}

/** ln(x / (1 - x)) at the quantile, roughly: Abramowitz & Stegun (1964) 26.5.22 with 26.2.22, or the mean where a shape is small. */
function firstLogit(logTail: number, a: number, b: number, direction: 1 | -1): number {
  const middle = Math.log(a / b);
  if (a <= 1 || b <= 1) return middle;
  const t = Math.sqrt(-2 * logTail);
  const z = direction * (t - (2.30753 + 0.27061 * t) / (1 + t * (0.99229 + 0.04481 * t)));
  const [first, second] = [1 / (2 * a - 1), 1 / (2 * b - 1)];
  const h = 2 / (first + second);
  const lambda = (z * z - 3) / 6;
  const w = (z * Math.sqrt(h + lambda)) / h - (second - first) * (lambda + 5 / 6 - 2 / (3 * h));
  return Number.isFinite(w) ? Math.min(700, Math.max(-700, middle - 2 * w)) : middle;
}
