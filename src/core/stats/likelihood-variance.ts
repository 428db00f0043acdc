import { findRoot } from "./find-root.ts";
import { checkEffects, type StudyEffect } from "./study.ts";
import { weightedMean } from "./weighted-mean.ts";

/**
 * Between-study variance by maximum likelihood, full or restricted (REML), for normal effects with known variances.
 *
 * The likelihood may have more than one maximum: every root of the score from 0 up to beyond any possible maximum is
 * found, and the best of them and of the boundary 0 is taken.
 *
 * Source: Viechtbauer W (2005) J Educ Behav Stat 30:261-293, eq. 11 (ML) and 15 (REML); the score is their
 * derivative.
 *
 * @returns 0 or more; 0 for one study
 * @throws RangeError for no effects or a variance that is not above 0
 */
export function likelihoodVariance(effects: readonly StudyEffect[], restricted: boolean): number {
  checkEffects(effects);
  if (effects.length < 2) return 0;
  const score = (tau2: number) => {
    const { weight, squaredWeight, weightedSquares } = weightedMean(effects, tau2);
    return weightedSquares - weight + (restricted ? squaredWeight / weight : 0);
  };
  const estimates = effects.map(({ estimate }) => estimate);
  const least = Math.min(...effects.map(({ variance }) => variance));
  // beyond this no residual exceeds its variance enough for the score to be positive
  const most = 4 * (Math.max(...estimates) - Math.min(...estimates)) ** 2;
  let best = 0;
  let bestValue = logLikelihood(effects, 0, restricted);
  const steps = 80;
  const first = 1e-6 * least;
  let low = 0;
  let lowScore = score(0);
  for (let step = 0; step <= steps && low < most; step += 1) {
    const high = first * Math.max(2, most / first) ** (step / steps);
    const highScore = score(high);
    if (lowScore > 0 && highScore <= 0) {
      const tau2 = findRoot(score, low, high);
      const value = logLikelihood(effects, tau2, restricted);
      if (value > bestValue) {
        best = tau2;
        bestValue = value;
      }
    }
    low = high;
    lowScore = highScore;
  }
  return best;
}

/** Profile log-likelihood of tau2, constants left out. */
function logLikelihood(effects: readonly StudyEffect[], tau2: number, restricted: boolean): number {
  const { weight, squares } = weightedMean(effects, tau2);
  const spread = effects.reduce((sum, { variance }) => sum + Math.log(variance + tau2), 0);
  return -0.5 * (spread + squares + (restricted ? Math.log(weight) : 0));
}
