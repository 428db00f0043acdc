import { logBinomialProbability } from "./binomial-probability.ts";
import { checkOpenProbability } from "./check-arguments.ts";
import { climbLikelihood, type LikelihoodPoint, type Summit } from "./climb-likelihood.ts";
import type { GaussRule } from "./gauss-rule.ts";
import type { Interval } from "./interval.ts";
import { inverseLogit, logit } from "./logistic.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkStudies, type Study } from "./study.ts";
import { summationRule } from "./summation-rule.ts";

/** Studies pooled by the beta-binomial model. */
export interface BetaBinomialFit {
  /** Mean failure rate over studies */
  mean: number;
  /** Correlation of two specimens of one study: 1 / (alpha + beta + 1) */
  correlation: number;
  logLikelihood: number;
  /** True where the correlation is at the end of its range: 0 (one binomial) or 1 (studies all failures or all passes) */
  boundary: boolean;
  /** Of the mean, normal on its logit, from the observed information; null where every specimen failed or none did */
  meanInterval: Interval | null;
}

/**
 * Random-effects pooling of failure rates that are beta distributed over studies, by maximum likelihood.
 *
 * Correlations are held to 0 and above: studies that differ less than chance give the boundary 0.
 *
 * Source: Williams D A (1975) Biometrics 31:949-952; Griffiths D A (1973) Biometrics 29:637-648, eq. 2.3 (the likelihood
 * as a product, with theta = rho / (1 - rho)).
 *
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function betaBinomial(studies: readonly Study[], level: number): BetaBinomialFit {
  checkStudies(studies);
  checkOpenProbability("level", level);
  const failures = studies.reduce((sum, { k }) => sum + k, 0);
  const tested = studies.reduce((sum, { n }) => sum + n, 0);
  const passes = tested - failures;
  const mean = failures / tested;
  const common = studies.reduce(
    (sum, { k, n }) => sum + logBinomialProbability(k, n - k, mean, passes / tested),
    0,
  );
  const atZero: BetaBinomialFit = {
    mean,
    correlation: 0,
    logLikelihood: common,
    boundary: true,
    meanInterval: logitInterval(Math.log(failures / passes), Math.sqrt(1 / failures + 1 / passes), level),
  };
  if (failures === 0 || passes === 0 || studies.every(({ n }) => n === 1)) return atZero;
  if (studies.every(({ k, n }) => k === 0 || k === n)) return allOrNone(studies, level);
  const summit = bestSummit(studies, logit(mean));
  const constant = studies.reduce((sum, study) => sum + logCoefficient(study), 0);
  if (summit === null || summit.value + constant <= common + 1e-11 * Math.abs(common)) return atZero;
  const [logitMean = Number.NaN, logTheta = Number.NaN] = summit.parameters;
  const [[aa = 0, ab = 0] = [], [, bb = 0] = []] = summit.hessian;
  return {
    mean: inverseLogit(logitMean),
    correlation: inverseLogit(logTheta),
    logLikelihood: summit.value + constant,
    boundary: false,
    meanInterval: logitInterval(logitMean, Math.sqrt(-bb / (aa * bb - ab * ab)), level),
  };
}

/** Every study all failures or all passes: the likelihood rises towards a correlation of 1, where a study is one coin. */
function allOrNone(studies: readonly Study[], level: number): BetaBinomialFit {
  const count = studies.length;
  const full = studies.filter(({ k }) => k > 0).length;
  const none = count - full;
  return {
    mean: full / count,
    correlation: 1,
    logLikelihood: full * Math.log(full / count) + none * Math.log(none / count),
    boundary: true,
    meanInterval: logitInterval(Math.log(full / none), Math.sqrt(1 / full + 1 / none), level),
  };
}

function bestSummit(studies: readonly Study[], logitMean: number): Summit | null {
  const products = studies.flatMap(productsOf);
  let best: Summit | null = null;
  for (const theta of [0.003, 0.1, 2]) {
    const summit = climbLikelihood((at) => kernel(products, at), [logitMean, Math.log(theta)]);
    const interior = summit.converged && Math.abs(summit.parameters[1] ?? 99) < 25;
    if (interior && (best === null || summit.value > best.value)) best = summit;
  }
  return best;
}

/** One product of the likelihood, Π (base + jθ) over j below a count; that of base 1 is below the fraction line. */
interface Product extends GaussRule {
  kind: "mean" | "complement" | "one";
}

function productsOf({ k, n }: Study): Product[] {
  return [
    { kind: "mean", ...summationRule(k) },
    { kind: "complement", ...summationRule(n - k) },
    { kind: "one", ...summationRule(n) },
  ];
}

/** Σ ln[Π (m + jθ) Π (1 - m + jθ) / Π (1 + jθ)] in (logit m, ln θ), with its derivatives. */
function kernel(
  products: readonly Product[],
  [logitMean = 0, logTheta = 0]: readonly number[],
): LikelihoodPoint {
  const m = inverseLogit(logitMean);
  const q = inverseLogit(-logitMean);
  const theta = Math.exp(logTheta);
  const bases = { mean: m, complement: q, one: 1 };
  const slopes = { mean: 1, complement: -1, one: 0 };
  let value = 0;
  let [dm, dt, mm, mt, tt] = [0, 0, 0, 0, 0];
  for (const { kind, nodes, weights } of products) {
    const base = bases[kind];
    const slope = slopes[kind];
    const sign = kind === "one" ? -1 : 1;
    for (let index = 0; index < nodes.length; index += 1) {
      const j = nodes[index] as number;
      const weight = sign * (weights[index] as number);
      const inverse = 1 / (base + j * theta);
      const ratio = j * inverse;
      value -= weight * Math.log(inverse);
      dm += weight * slope * inverse;
      dt += weight * ratio;
      mm -= weight * slope * slope * inverse * inverse;
      mt -= weight * slope * inverse * ratio;
      tt -= weight * ratio * ratio;
    }
  }
  const turn = m * q;
  return {
    value,
    gradient: [dm * turn, dt * theta],
    hessian: [
      [mm * turn * turn + dm * turn * (q - m), mt * turn * theta],
      [mt * turn * theta, tt * theta * theta + dt * theta],
    ],
  };
}

function logCoefficient({ k, n }: Study): number {
  const m = n - k;
  const largest = (k === 0 ? 0 : k * Math.log(k / n)) + (m === 0 ? 0 : m * Math.log(m / n));
  return logBinomialProbability(k, m, k / n, m / n) - largest;
}

function logitInterval(centre: number, error: number, level: number): Interval | null {
  if (!Number.isFinite(centre)) return null;
  const half = twoSidedNormalQuantile(level) * error;
  return { lower: inverseLogit(centre - half), upper: inverseLogit(centre + half) };
}
