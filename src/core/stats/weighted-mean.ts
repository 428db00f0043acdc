import type { StudyEffect } from "./study.ts";

/** Inverse-variance mean of effects for a given between-study variance, and what is computed from the same weights. */
export interface WeightedMean {
  estimate: number;
  /** Sum of the weights 1 / (variance + tau2) */
  weight: number;
  /** Sum of the squared weights */
  squaredWeight: number;
  /** Σ w (y - mean)²; Cochran's Q where tau2 is 0 */
  squares: number;
  /** Σ w² (y - mean)² */
  weightedSquares: number;
}

/** Source: Cochran W G (1954) Biometrics 10:101-129; DerSimonian & Laird (1986) Control Clin Trials 7:177-188, eq. 6-7. */
export function weightedMean(effects: readonly StudyEffect[], tau2: number): WeightedMean {
  let weight = 0;
  let squaredWeight = 0;
  let sum = 0;
  for (const { estimate, variance } of effects) {
    const w = 1 / (variance + tau2);
    weight += w;
    squaredWeight += w * w;
    sum += w * estimate;
  }
  const mean = sum / weight;
  let squares = 0;
  let weightedSquares = 0;
  for (const { estimate, variance } of effects) {
    const w = 1 / (variance + tau2);
    const square = (estimate - mean) ** 2;
    squares += w * square;
    weightedSquares += w * w * square;
  }
  return { estimate: mean, weight, squaredWeight, squares, weightedSquares };
}
