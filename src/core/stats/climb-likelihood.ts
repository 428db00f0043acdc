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
  for (let iteration = 0; iteration < 300; iteration += 1) {
    const damped = here.hessian.map((row, i) =>
      row.map((value, j) => (i === j ? -value + damping * (Math.abs(value) + 1e-10) : -value)),
    );
    const step = solvePositive(damped, here.gradient);
    if (step === null) {
      if (damping > 1e14) break;
      damping = Math.max(10 * damping, 1e-4);
      continue;
    }
    const next = parameters.map((value, index) => value + (step[index] ?? 0));
    const there = evaluate(next);
    const tiny = step.every(
      (move, index) => Math.abs(move) <= 1e-11 * Math.max(1e-3, Math.abs(parameters[index] ?? 0)),
    );
    const rounding = 1e-13 * Math.abs(here.value);
    if (there.value >= here.value - (tiny ? rounding : 0)) {
      parameters = next;
      here = there;
      if (tiny && damping < 1e-3) return { ...here, parameters, converged: true };
      damping = damping < 1e-10 ? 0 : damping / 20;
      continue;
    }
    // a step lost in rounding: the top is flat to the last digit
    if (tiny) return { ...here, parameters, converged: true };
    if (damping > 1e14) break;
    damping = Math.max(10 * damping, 1e-8);
  }
  return { ...here, parameters, converged: false };
}
