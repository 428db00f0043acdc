import {
  type Likelihood,
  type TripParameters,
  type TripShot,
  tripLogLikelihood,
} from "./trip-log-likelihood.ts";

/** Where a climb ended: the parameters, the likelihood there, and whether the gradient vanished. */
export interface Summit {
  parameters: TripParameters;
  likelihood: Likelihood;
  converged: boolean;
}

/** Solves a small symmetric positive definite system by Cholesky; null where it is not positive definite. */
export function solvePositive(
  matrix: readonly (readonly number[])[],
  right: readonly number[],
): number[] | null {
  const n = right.length;
  const lower: number[][] = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const at = (m: readonly (readonly number[])[], i: number, j: number) => m[i]?.[j] ?? 0;
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = at(matrix, i, j);
      for (let k = 0; k < j; k += 1) sum -= at(lower, i, k) * at(lower, j, k);
      if (i === j) {
        if (!(sum > 0)) return null;
        (lower[i] as number[])[i] = Math.sqrt(sum);
      } else (lower[i] as number[])[j] = sum / at(lower, j, j);
    }
  }
  const forward: number[] = [];
  for (let i = 0; i < n; i += 1) {
    let sum = right[i] ?? 0;
    for (let k = 0; k < i; k += 1) sum -= at(lower, i, k) * (forward[k] ?? 0);
    forward.push(sum / at(lower, i, i));
  }
  const out = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i -= 1) {
    let sum = forward[i] ?? 0;
    for (let k = i + 1; k < n; k += 1) sum -= at(lower, k, i) * (out[k] ?? 0);
    out[i] = sum / at(lower, i, i);
  }
  return out;
}

/**
 * Climbs the log-likelihood by damped Newton steps (Levenberg-Marquardt damping of the observed information) over the free
 * parameters; never accepts a step down, so that impossible regions cannot be entered.
 */
export function climb(
  shots: readonly TripShot[],
  start: TripParameters,
  free: readonly (0 | 1 | 2)[],
): Summit {
  let parameters = start;
  let likelihood = tripLogLikelihood(shots, parameters);
  let damping = 1e-3;
  let converged = false;
  for (let step = 0; step < 500 && Number.isFinite(likelihood.value); step += 1) {
    const gradient = free.map((u) => likelihood.gradient[u]);
    const information = free.map((u) => free.map((v) => -likelihood.hessian[u][v]));
    const damped = information.map((row, i) =>
      row.map((value, j) => (i === j ? value + damping * Math.max(Math.abs(value), 1e-8) : value)),
    );
    const move = solvePositive(damped, gradient);
    if (move === null) {
      damping = Math.max(damping * 10, 1e-6);
      if (damping > 1e16) break;
      continue;
    }
    const next = [...parameters] as [number, number, number];
    free.forEach((u, i) => {
      next[u] += move[i] ?? 0;
    });
    const there = tripLogLikelihood(shots, next);
    const small = free.every(
      (u, i) => Math.abs(move[i] ?? 0) <= 1e-13 * Math.max(1, Math.abs(parameters[u])),
    );
    if (there.value >= likelihood.value) {
      parameters = next;
      likelihood = there;
      damping = damping < 1e-12 ? 0 : damping / 10;
    } else {
      if (small) {
        converged = true;
        break;
      }
      damping = Math.max(damping * 10, 1e-10);
      if (damping > 1e16) break;
    }
    if (small && damping < 1e-6) {
      converged = true;
      break;
    }
  }
  return { parameters, likelihood, converged };
}
