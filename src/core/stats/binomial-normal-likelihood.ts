import { logBinomialProbability } from "./binomial-probability.ts";
import type { LikelihoodPoint } from "./climb-likelihood.ts";
import { inverseLogit, logOnePlusExp } from "./logistic.ts";
import type { Study } from "./study.ts";

/** A study's part of the log-likelihood and its derivatives by mu and tau. */
interface StudyPart {
  value: number;
  byMu: number;
  byTau: number;
  byMuMu: number;
  byMuTau: number;
  byTauTau: number;
}

/**
 * Log-likelihood of the binomial-normal model in (mu, tau): k of n with logit mu + tau z, z standard normal, with its
 * derivatives.
 *
 * Each study's integral over z is taken by the trapezoidal rule about the mode of its integrand, out to where that has
 * fallen to 1e-16 of its top. For so smooth an integrand the error falls exponentially with the number of points, also
 * where a tail is exponential, as with many failures of few and a large tau; Gauss-Hermite nodes scaled by the curvature
 * at the mode converge slowly there. The derivatives are expectations over the same points.
 *
 * Source: Stijnen T, Hamza T H, Özdemir P (2010) Stat Med 29:3046-3067, section 3; Trefethen & Weideman (2014) SIAM Rev
 * 56:385-458, theorem 5.1 (quadrature); Louis T A (1982) JRSS B 44:226-233, eq. 3.1-3.2 (derivatives).
 *
 * @param points number of points of each integral, 20 or more
 */
export function binomialNormalLikelihood(
  studies: readonly Study[],
  points: number,
): (parameters: readonly number[]) => LikelihoodPoint {
  const offsets = studies.map(kernelOffset);
  return ([mu = Number.NaN, tau = Number.NaN]) => {
    let [value, byMu, byTau, byMuMu, byMuTau, byTauTau] = [0, 0, 0, 0, 0, 0];
    for (const [index, study] of studies.entries()) {
      const part = studyPart(study, offsets[index] ?? 0, mu, tau, points);
      value += part.value;
      byMu += part.byMu;
      byTau += part.byTau;
      byMuMu += part.byMuMu;
      byMuTau += part.byMuTau;
      byTauTau += part.byTauTau;
    }
    return {
      value,
      gradient: [byMu, byTau],
      hessian: [
        [byMuMu, byMuTau],
        [byMuTau, byTauTau],
      ],
    };
  };
}

/** ln of the binomial coefficient, from the study's largest probability, so that large counts keep their digits. */
function kernelOffset({ k, n }: Study): number {
  const m = n - k;
  const kernel = (k === 0 ? 0 : k * Math.log(k / n)) + (m === 0 ? 0 : m * Math.log(m / n));
  return logBinomialProbability(k, m, k / n, m / n) - kernel;
}

function studyPart({ k, n }: Study, offset: number, mu: number, tau: number, points: number): StudyPart {
  const log = (z: number) => k * (mu + tau * z) - n * logOnePlusExp(mu + tau * z) - 0.5 * z * z;
  const mode = modeOf(k, n, mu, tau, log);
  const top = log(mode);
  const p = inverseLogit(mu + tau * mode);
  const width = 1 / Math.sqrt(1 + tau * tau * n * p * (1 - p));
  const low = mode - reachOf((distance) => log(mode - distance) - top, width);
  const high = mode + reachOf((distance) => log(mode + distance) - top, width);
  const step = (high - low) / points;
  let [total, mean, meanZ, square, squareZ, squareZz] = [0, 0, 0, 0, 0, 0];
  for (let index = 0; index <= points; index += 1) {
    const z = low + index * step;
    const mass = Math.exp(log(z) - top);
    const rate = inverseLogit(mu + tau * z);
    const residual = k - n * rate;
    const curvature = residual * residual - n * rate * (1 - rate);
    total += mass;
    mean += mass * residual;
    meanZ += mass * residual * z;
    square += mass * curvature;
    squareZ += mass * curvature * z;
    squareZz += mass * curvature * z * z;
  }
  const byMu = mean / total;
  const byTau = meanZ / total;
  return {
    value: offset + top + Math.log((total * step) / Math.sqrt(2 * Math.PI)),
    byMu,
    byTau,
    byMuMu: square / total - byMu * byMu,
    byMuTau: squareZ / total - byMu * byTau,
    byTauTau: squareZz / total - byTau * byTau,
  };
}

/** About how far from its top a concave function, 0 there, has fallen by `deep`; `width` is 1/√ of its curvature there. */
function reachOf(fall: (distance: number) => number, width: number): number {
  const deep = -37;
  let near = 0;
  let far = 8 * width;
  while (fall(far) > deep) {
    near = far;
    far *= 2;
  }
  for (let halving = 0; halving < 5; halving += 1) {
    const middle = (near + far) / 2;
    if (fall(middle) > deep) near = middle;
    else far = middle;
  }
  return far;
}

/** Where the log-concave integrand is largest: Newton steps, halved while they lead down. */
function modeOf(k: number, n: number, mu: number, tau: number, log: (z: number) => number): number {
  let z = 0;
  let value = log(z);
  for (let iteration = 0; iteration < 100; iteration += 1) {
    const p = inverseLogit(mu + tau * z);
    let step = (tau * (k - n * p) - z) / (1 + tau * tau * n * p * (1 - p));
    let next = log(z + step);
    for (let halving = 0; next < value && halving < 60; halving += 1) {
      step /= 2;
      next = log(z + step);
    }
    z += step;
    value = next;
    // the points need only be about the mode
    if (Math.abs(step) < 1e-9 * (1 + Math.abs(z))) break;
  }
  return z;
}
