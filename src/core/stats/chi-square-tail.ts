import normal from "@stdlib/stats-base-dists-normal";

/**
 * P(X > x) for X chi-square with a whole number of degrees of freedom, exact also where it is tiny.
 *
 * The finite sums for odd and even degrees of freedom, all of whose terms are positive; taking 1 - cdf would lose every
 * digit of a small p-value.
 *
 * Source: Abramowitz & Stegun (1964) 26.4.4 (odd) and 26.4.5 (even).
 *
 * @throws RangeError if x is negative or not a number, or df is not a whole number above 0
 */
export function chiSquareTail(x: number, df: number): number {
  if (!(x >= 0)) throw new RangeError(`chi-square must be 0 or more but is ${x}`);
  if (!(Number.isInteger(df) && df > 0)) {
    throw new RangeError(`degrees of freedom must be a whole number above 0 but are ${df}`);
  }
  if (x === 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  const odd = df % 2 === 1;
  // ln of (x/2)^s e^(-x/2) / Γ(s+1), for s = 1/2, 3/2, … or 0, 1, …
  let logTerm = odd ? 0.5 * Math.log((2 * x) / Math.PI) - x / 2 : -x / 2;
  let tail = odd ? 2 * normal.cdf(-Math.sqrt(x), 0, 1) : 0;
  for (let s = odd ? 0.5 : 0; s < df / 2; s += 1) {
    tail += Math.exp(logTerm);
    logTerm += Math.log(x / 2 / (s + 1));
  }
  return Math.min(1, tail);
}
