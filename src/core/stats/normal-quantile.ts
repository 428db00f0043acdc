import normal from "@stdlib/stats-base-dists-normal";

/**
 * The standard normal z with P(Z <= z) = p.
 *
 * The library's quantile loses digits below 1e-6 and overflows below 1e-17; Newton steps on ln P(Z <= z), which is concave,
 * bring it to full precision down to 1e-300. Pass the smaller tail and change the sign, rather than a p near 1.
 *
 * Source: Abramowitz & Stegun (1964) 26.2.23 gives the same root; the start for far tails is their 26.2.12.
 *
 * @throws RangeError if p is not in (0, 1)
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`probability must be in (0, 1) but is ${p}`);
  if (p > 0.5) return -normalQuantile(1 - p);
  const target = Math.log(p);
  let z = p > 1e-8 ? normal.quantile(p, 0, 1) : -Math.sqrt(-2 * target - Math.log(-4 * Math.PI * target));
  for (let iteration = 0; iteration < 20; iteration += 1) {
    const below = normal.cdf(z, 0, 1);
    const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    const step = ((target - Math.log(below)) * below) / density;
    z += step;
    if (Math.abs(step) <= 4 * Number.EPSILON * Math.abs(z)) break;
  }
  return z;
}

/** The z that leaves (1 - level) / 2 in each tail. @throws RangeError if level is not in (0, 1) */
export function twoSidedNormalQuantile(level: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`level must be in (0, 1) but is ${level}`);
  return -normalQuantile((1 - level) / 2);
}
