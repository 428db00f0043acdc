import { binomialNormalLikelihood } from "./binomial-normal-likelihood.ts";
import { logBinomialProbability } from "./binomial-probability.ts";
import { checkOpenProbability } from "./check-arguments.ts";
import { climbLikelihood, type Summit } from "./climb-likelihood.ts";
import type { Interval } from "./interval.ts";
import { inverseLogit, logit } from "./logistic.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { checkStudies, type Study } from "./study.ts";

/** Studies pooled by the binomial-normal model. */
export interface BinomialNormalFit {
  /** Mean logit; infinite where no study or every study has only failures */
  mu: number;
  /** From the observed information in (mu, tau); null where mu is infinite */
  standardError: number | null;
  tau2: number;
  tau: number;
  /** True where the studies differ no more than chance: tau2 is 0 and the model is one binomial of all counts */
  boundary: boolean;
  logLikelihood: number;
  /** Twice the gain in log-likelihood over tau2 = 0 */
  likelihoodRatio: number;
  /** Failure rate of the middle study */
  median: number;
  medianInterval: Interval | null;
  /** Failure rate averaged over studies */
  marginalMean: number;
}

/**
 * Random-effects pooling of failure rates by the binomial-normal mixed model with logit link, fitted by maximum likelihood.
 *
 * Works on the counts themselves: nothing is added to studies without failures. The integrals over studies
 * are taken with as many points as it takes for the estimates to stand still.
 *
 * Source: Stijnen T, Hamza T H, Özdemir P (2010) Stat Med 29:3046-3067; Hamza, van Houwelingen & Stijnen (2008) J Clin
 * Epidemiol 61:41-51.
 *
 * @returns null where tau has no finite estimate: two or more studies, each all failures or all passes, some of both
 * @throws RangeError for counts that are not k of n, or a level outside (0, 1)
 */
export function binomialNormal(studies: readonly Study[], level: number): BinomialNormalFit | null {
  checkStudies(studies);
  checkOpenProbability("level", level);
  const failures = studies.reduce((sum, { k }) => sum + k, 0);
  const tested = studies.reduce((sum, { n }) => sum + n, 0);
  const passes = tested - failures;
  const pooled = failures / tested;
  const common = studies.reduce(
    (sum, { k, n }) => sum + logBinomialProbability(k, n - k, pooled, passes / tested),
    0,
  );
  const boundary = (standardError: number | null): BinomialNormalFit => ({
    mu: Math.log(failures / passes),
    standardError,
    tau2: 0,
    tau: 0,
    boundary: true,
    logLikelihood: common,
    likelihoodRatio: 0,
    median: pooled,
    medianInterval: medianInterval(Math.log(failures / passes), standardError, level),
    marginalMean: pooled,
  });
  if (failures === 0 || passes === 0) return boundary(null);
  const commonError = Math.sqrt(1 / failures + 1 / passes);
  // studies of one specimen each say nothing of tau
  if (studies.every(({ n }) => n === 1)) return boundary(commonError);
  if (studies.every(({ k, n }) => k === 0 || k === n)) return null;
  const summit = bestSummit(studies, logit(pooled));
  if (summit === null || summit.value <= common + 1e-11 * Math.abs(common)) {
    return boundary(commonError);
  }
  const [mu = Number.NaN, signedTau = Number.NaN] = summit.parameters;
  const tau = Math.abs(signedTau);
  const [[muMu = 0, muTau = 0] = [], [, tauTau = 0] = []] = summit.hessian;
  const standardError = Math.sqrt(-tauTau / (muMu * tauTau - muTau * muTau));
  return {
    mu,
    standardError,
    tau2: tau * tau,
    tau,
    boundary: false,
    logLikelihood: summit.value,
    likelihoodRatio: 2 * (summit.value - common),
    median: inverseLogit(mu),
    medianInterval: medianInterval(mu, standardError, level),
    marginalMean: marginalMean(mu, tau),
  };
}

/** E[inverse logit (mu + tau z)]: the likelihood of one failure of one specimen. */
function marginalMean(mu: number, tau: number): number {
  return Math.exp(binomialNormalLikelihood([{ k: 1, n: 1 }], 400)([mu, tau]).value);
}

function medianInterval(mu: number, error: number | null, level: number): Interval | null {
  if (error === null) return null;
  const half = twoSidedNormalQuantile(level) * error;
  return { lower: inverseLogit(mu - half), upper: inverseLogit(mu + half) };
}

/** The best maximum with tau away from 0, found from several starts and then with more points until it stands still. */
function bestSummit(studies: readonly Study[], mu: number): Summit | null {
  let best: Summit | null = null;
  for (const tau of [0.2, 0.8, 3]) {
    const summit = climbLikelihood(binomialNormalLikelihood(studies, 24), [mu, tau]);
    const interior = Math.abs(summit.parameters[1] ?? 0) > 1e-5;
    if (interior && (best === null || summit.value > best.value)) best = summit;
  }
  for (let points = 48; best !== null && points <= 1536; points *= 2) {
    const finer = climbLikelihood(binomialNormalLikelihood(studies, points), best.parameters);
    const stands = finer.parameters.every(
      (value, index) => Math.abs(value - (best?.parameters[index] ?? 0)) <= 1e-9 * Math.abs(value),
    );
    best = finer;
    if (stands) break;
  }
  return best;
}
