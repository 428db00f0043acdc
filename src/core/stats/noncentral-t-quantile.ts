import normal from "@stdlib/stats-base-dists-normal";
import { deviancePart } from "./deviance-part.ts";
import { findRootAround } from "./find-root-around.ts";
import { integrate } from "./integrate.ts";
import { stirlingError } from "./stirling-error.ts";

/**
 * P(T <= t), or P(T > t), for T noncentral Student t: a normal with mean `delta` over an independent chi scaled by its degrees
 * of freedom. Integrated over the chi, so that large noncentralities do no harm.
 *
 * Source: Johnson N L, Kotz S, Balakrishnan N (1995) Continuous Univariate Distributions 2, equation 31.11 (from memory).
 *
 * @param df degrees of freedom, above 0
 */
export function noncentralTTail(t: number, df: number, delta: number, tail: "lower" | "upper"): number {
  const half = df / 2;
  const constant = Math.log(2) + 0.5 * Math.log(half / (2 * Math.PI)) - stirlingError(half);
  const sign = tail === "lower" ? 1 : -1;
  // Ten standard deviations of the chi and more lie to either side of 1
  const reach = 10 / Math.sqrt(df);
  return integrate(
    (s) => {
      const logDensity = constant - Math.log(s) - half * deviancePart(1, s * s);
      return Math.exp(logDensity) * normal.cdf(sign * (t * s - delta), 0, 1);
    },
    Math.max(0, 1 - reach),
    1 + reach,
  );
}

/**
 * The t with P(T <= t) = p for T noncentral Student t.
 *
 * @throws RangeError if p is not in (0, 1) or df not above 0
 */
export function noncentralTQuantile(p: number, df: number, delta: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`probability must be above 0 and below 1 but is ${p}`);
  if (!(df > 0 && Number.isFinite(df)))
    throw new RangeError(`degrees of freedom must be above 0 but are ${df}`);
  const below = (t: number) =>
    p < 0.5 ? noncentralTTail(t, df, delta, "lower") - p : 1 - p - noncentralTTail(t, df, delta, "upper");
  return findRootAround(below, delta, Math.max(1, Math.abs(delta) / 4));
}
