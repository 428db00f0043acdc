import t from "@stdlib/stats-base-dists-t";
import { betaQuantile } from "./beta-quantile.ts";
import { checkOpenProbability, checkWhole } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";

/**
 * Where the true value of a new study is expected: mean ± t √(tau2 + SE²), t with studies - 2 degrees of freedom.
 *
 * Source: Higgins J P T, Thompson S G, Spiegelhalter D J (2009) JRSS A 172:137-159, eq. 12.
 *
 * @returns null with fewer than three studies
 * @throws RangeError for a level outside (0, 1) or a number of studies that cannot be
 */
export function predictionInterval(
  fit: { mean: number; standardError: number; tau2: number; studies: number },
  level: number,
): Interval | null {
  checkOpenProbability("level", level);
  checkWhole("number of studies", fit.studies, 1);
  if (fit.studies < 3) return null;
  const reach = -t.quantile((1 - level) / 2, fit.studies - 2);
  const half = reach * Math.sqrt(fit.tau2 + fit.standardError ** 2);
  return { lower: fit.mean - half, upper: fit.mean + half };
}

/**
 * The middle of the beta distribution of rates over studies, from its mean and the correlation within a study. The
 * uncertainty of the two is not in it, so that it is too short with few studies.
 *
 * Source: rho = 1 / (alpha + beta + 1), Griffiths D A (1973) Biometrics 29:637-648; the quantiles from the definition.
 *
 * @returns null where the correlation is 0 or 1, or the mean 0 or 1: there is no distribution over studies then
 * @throws RangeError for a level outside (0, 1)
 */
export function betaSpread(mean: number, correlation: number, level: number): Interval | null {
  checkOpenProbability("level", level);
  if (!(mean > 0 && mean < 1 && correlation > 0 && correlation < 1)) return null;
  const sum = 1 / correlation - 1;
  const tail = (1 - level) / 2;
  const [a, b] = [mean * sum, (1 - mean) * sum];
  return { lower: betaQuantile(tail, a, b), upper: betaQuantile(tail, a, b, "upper") };
}
