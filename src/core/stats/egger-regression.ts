import t from "@stdlib/stats-base-dists-t";
import { checkEffects, type StudyEffect } from "./study.ts";

/** Regression of effects on their standard errors. */
export interface EggerRegression {
  /** Effect expected of a study with no sampling error */
  intercept: number;
  /** Slope on the standard error: Egger's bias */
  bias: number;
  biasError: number;
  t: number;
  degreesOfFreedom: number;
  p: number;
}

/**
 * Test for a dependence of effects on study size: weighted regression of the estimates on their standard errors.
 *
 * Weights are 1/variance and the residual variance is free, so that the slope is the intercept of Egger's regression of
 * estimate/error on 1/error. On logits of rare failures the test rejects too often, since estimate and error depend on each
 * other.
 *
 * Source: Egger M, Davey Smith G, Schneider M, Minder C (1997) BMJ 315:629-634; Sterne & Egger (2005) chapter 6, in
 * Rothstein et al., Publication Bias in Meta-Analysis.
 *
 * @returns null with fewer than three studies, where all errors are equal, or where the line fits without residual
 * @throws RangeError for no effects or a variance that is not above 0
 */
export function eggerRegression(effects: readonly StudyEffect[]): EggerRegression | null {
  checkEffects(effects);
  const degreesOfFreedom = effects.length - 2;
  if (degreesOfFreedom < 1) return null;
  const points = effects.map(({ estimate, variance }) => ({
    w: 1 / variance,
    x: Math.sqrt(variance),
    y: estimate,
  }));
  const sum = (f: (point: (typeof points)[number]) => number) =>
    points.reduce((total, point) => total + f(point), 0);
  const weight = sum(({ w }) => w);
  const meanX = sum(({ w, x }) => w * x) / weight;
  const meanY = sum(({ w, y }) => w * y) / weight;
  const squaresX = sum(({ w, x }) => w * (x - meanX) ** 2);
  const squaresY = sum(({ w, y }) => w * (y - meanY) ** 2);
  if (!(squaresX > 1e-20 * weight * meanX ** 2)) return null;
  const bias = sum(({ w, x, y }) => w * (x - meanX) * (y - meanY)) / squaresX;
  const intercept = meanY - bias * meanX;
  const residual = sum(({ w, x, y }) => w * (y - meanY - bias * (x - meanX)) ** 2);
  if (!(residual > 1e-24 * (squaresY + weight * meanY ** 2))) return null;
  const biasError = Math.sqrt(residual / degreesOfFreedom / squaresX);
  const ratio = bias / biasError;
  return {
    intercept,
    bias,
    biasError,
    t: ratio,
    degreesOfFreedom,
    p: 2 * t.cdf(-Math.abs(ratio), degreesOfFreedom),
  };
}
