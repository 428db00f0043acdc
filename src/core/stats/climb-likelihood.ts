import { solvePositive } from "./solve-positive.ts";

/** A log-likelihood at one point: value, first and second derivatives. */
export interface LikelihoodPoint {
  value: number;
  gradient: readonly number[];
  hessian: readonly (readonly number[])[];
}

/** Where a climb ended. `converged` is false where no maximum was reached. */
export interface Summit extends LikelihoodPoint {
  parameters: number[];
  converged: boolean;
}

/**
 * Climb a smooth log-likelihood to a maximum by damped Newton steps, never accepting a step down.
 *
 * Source: Levenberg K (1944) Q Appl Math 2:164-168; Marquardt D (1963) J SIAM 11:431-441: the negative second derivatives
 * take the place of their normal equations.
 *
 * @param evaluate gives -Infinity for a value outside the parameters' range
 */
export function climbLikelihood(
  evaluate: (parameters: readonly number[]) => LikelihoodPoint,
  start: readonly number[],
): Summit {
  let parameters = [...start];
  let here = evaluate(parameters);
  let damping = 1e-4;
  let last = 0;
  for (let iteration = 0; iteration < 300 && Number.isFinite(here.value); iteration += 1) {
    const step = dampedStep(here, damping);
    if (step === null) {
      if (damping > 1e14) break;
      damping = Math.max(10 * damping, 1e-4);
      continue;
    }
    const next = parameters.map((value, index) => value + (step[index] ?? 0));
    const there = evaluate(next);
    const gain = step.reduce((sum, move, index) => sum + move * (here.gradient[index] ?? 0), 0) / 2;
    const rounding = 1e-12 * (1 + Math.abs(here.value));
    if (gain < rounding && there.value > here.value - 100 * rounding) {
      // the value no longer tells the points apart, but the gradient still does
      parameters = next;
      here = there;
      damping = 0;
      last += 1;
      const still = step.every((move, index) => Math.abs(move) <= 1e-13 * Math.abs(parameters[index] ?? 0));
      if (still || last === 6) return { ...here, parameters, converged: true };
      continue;
    }
    if (there.value >= here.value) {
      parameters = next;
      here = there;
      damping = damping < 1e-10 ? 0 : damping / 20;
      continue;
    }
    if (damping > 1e14) break;
    damping = Math.max(10 * damping, 1e-8);
  }
  return { ...here, parameters, converged: false };
}

/** The solution of (-H + damping · diag |H|) step = gradient; null where the matrix is not positive definite. */
function dampedStep({ gradient, hessian }: LikelihoodPoint, damping: number): number[] | null {
  const damped = hessian.map((row, i) =>
    row.map((value, j) => (i === j ? damping * (Math.abs(value) + 1e-10) : 0) - value),
  );
  return solvePositive(damped, gradient);
}
