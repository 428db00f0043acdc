import { betaQuantile } from "./beta-quantile.ts";
import { checkOpenProbability } from "./check-arguments.ts";
import { clopperPearson } from "./clopper-pearson.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { smallestWhole } from "./smallest-whole.ts";

/** Sample sizes at which an interval about an assumed proportion is at most ± the wanted half-width. */
export interface HalfWidthSampleSize {
  /** Smallest n for Wilson's interval, with n p taken as the (real) count */
  wilson: number;
  wilsonHalfWidth: number;
  /** The n from which the exact interval about round(n p) is narrow enough for every larger n too */
  clopperPearsonPersistent: number;
}

/**
 * How many specimens give a two-sided interval of half-width at most `halfWidth`, if the proportion is near p.
 *
 * The exact interval jumps with the whole count, so the first n that fits is no guide: the answer is the n from which all fit.
 *
 * Source: Newcombe R G (2013) Confidence Intervals for Proportions and Related Measures of Effect Size, chapter 3 (from
 * common practice); the search is explained at its lines.
 *
 * @throws RangeError if an argument is outside (0, 1)
 */
export function halfWidthSampleSize(p: number, halfWidth: number, level: number): HalfWidthSampleSize {
  checkOpenProbability("p", p);
  checkOpenProbability("half-width", halfWidth);
  checkOpenProbability("level", level);
  const z = twoSidedNormalQuantile(level);
  const wilsonHalfWidth = (n: number) => (z * Math.sqrt(4 * n * p * (1 - p) + z * z)) / (2 * (n + z * z));
  const wilson = smallestWhole(1, (n) => wilsonHalfWidth(n) <= halfWidth);
  return {
    wilson,
    wilsonHalfWidth: wilsonHalfWidth(wilson),
    clopperPearsonPersistent: persistentSize(p, halfWidth, level),
  };
}

function persistentSize(p: number, halfWidth: number, level: number): number {
  const count = (n: number) => Math.floor(n * p + 0.5);
  const fits = (n: number) => {
    const { lower, upper } = clopperPearson(count(n), n, level);
    return (upper - lower) / 2 <= halfWidth;
  };
  const rarer = p <= 0.5 ? count : (n: number) => n - count(n);
  const rate = Math.min(p, 1 - p);

  // Beyond this n even the widest interval about a real count within n p ± 1/2 fits, hence every rounded one
  const beyond = smallestWhole(1, (n) => widestHalfWidth(n, p, level) <= halfWidth);
  // Going down, run by run of a constant rarer count: within a run the interval narrows as n grows, so its start decides
  for (let end = beyond; end >= 1; ) {
    let start = Math.max(1, Math.floor((rarer(end) - 0.5) / rate) - 1);
    while (rarer(start) < rarer(end)) start += 1;
    if (!fits(start)) return smallestWhole(start, fits);
    end = start - 1;
  }
  return 1;
}

/** Half-width of the exact interval at the real count within n p ± 1/2 that is nearest to n/2, where it is widest. */
function widestHalfWidth(n: number, p: number, level: number): number {
  const k = Math.min(Math.max(n / 2, n * p - 0.5), n * p + 0.5);
  const tail = (1 - level) / 2;
  const lower = betaQuantile(tail, k, n - k + 1);
  const upper = betaQuantile(tail, k + 1, n - k, "upper");
  return (upper - lower) / 2;
}
