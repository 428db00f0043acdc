import { solvePositive } from "../stats/solve-positive.ts";
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
