import { betaBinomial } from "../beta-binomial.ts";
import { binomialNormal } from "../binomial-normal.ts";
import { eggerRegression } from "../egger-regression.ts";
import type { Family } from "../family.ts";
import { type FamilyInput, readCountLists, readNumber, readProbability } from "../family-input.ts";
import {
  freemanTukeyEffects,
  freemanTukeyWarning,
  harmonicMeanSize,
  inverseDoubleArcsine,
} from "../freeman-tukey.ts";
import type { Interval } from "../interval.ts";
import { leaveOneOut } from "../leave-one-out.ts";
import { inverseLogit } from "../logistic.ts";
import { type CorrectedStudies, logitEffects, poolableLogits } from "../logit-effects.ts";
import { type PooledEffect, type PoolingMethod, poolEffects, poolingMethods } from "../pool-effects.ts";

const studyInputs = {
  k: "failures in each study: whole numbers from 0 to n",
  n: "number tested in each study: whole numbers of 1 or more",
};
const levelInput = { level: "two-sided confidence level: above 0 and below 1" };
const zeroCell = "0.5 only in zero/full studies";
const correctedStudies: readonly CorrectedStudies[] = ["only0", "if0all", "all", "none"];

/** One of a few words. @throws RangeError naming the input and what is accepted */
function readChoice<Choice extends string>(
  input: FamilyInput,
  key: string,
  choices: readonly Choice[],
): Choice {
  const value = input[key];
  const found = choices.find((choice) => choice === value);
  if (found !== undefined) return found;
  const shown = value === undefined ? "missing" : JSON.stringify(value);
  throw new RangeError(`"${key}" must be one of ${choices.join(", ")} but is ${shown}`);
}

function pair(interval: { lower: number | null; upper: number | null } | null): (number | null)[] {
  return interval === null ? [null, null] : [interval.lower, interval.upper];
}

function ratePair(interval: Interval | null): (number | null)[] {
  return interval === null ? [null, null] : [inverseLogit(interval.lower), inverseLogit(interval.upper)];
}

function leftOut(pooled: readonly (PooledEffect | null)[]) {
  return {
    estimate: pooled.map((one) => one?.estimate ?? null),
    se: pooled.map((one) => one?.standardError ?? null),
    tau2: pooled.map((one) => one?.tau2 ?? null),
    Q: pooled.map((one) => one?.q ?? null),
    I2_Q: pooled.map((one) => one?.i2 ?? null),
    p: pooled.map((one) => (one === null ? null : inverseLogit(one.estimate))),
  };
}

const pooledOutputs = {
  estimate: "pooled logit",
  ci: "its normal interval",
  hk_ci: "its Hartung-Knapp interval, t with studies - 1; nulls for one study",
  tau2_qprofile_ci:
    "Q-profile bounds of tau2; an upper null says that no tau2 is compatible with so small a Q; nulls for one study",
  pi_hts_t_km2: "prediction interval of a new study's logit, t with studies - 2; nulls for one or two",
};

/** Failure rates of several studies pooled. */
export const poolingFamilies: readonly Family[] = [
  {
    name: "logit-effects",
    about: "Logit of each study's rate and its variance; 0.5 added to failures and passes where one is 0",
    inputs: studyInputs,
    outputs: { yi: "logits", vi: "their variances" },
    compute(input) {
      const effects = poolableLogits(readCountLists(input, "k", "n"));
      return {
        yi: effects.map(({ estimate }) => estimate),
        vi: effects.map(({ variance }) => variance),
      };
    },
  },
  {
    name: "pool-logit",
    about: "Inverse-variance pooling of logits, common effect or random effects, with heterogeneity",
    inputs: {
      ...studyInputs,
      method:
        "EE (common effect), DL (DerSimonian-Laird), HE (Hedges), PM (Paule-Mandel), ML or REML (likelihood)",
      ...levelInput,
      zero_cell: `what is added to counts: "${zeroCell}"`,
    },
    outputs: {
      k_studies: "number of studies",
      estimate: pooledOutputs.estimate,
      se: "its standard error",
      ci: pooledOutputs.ci,
      hk_se: "its Hartung-Knapp standard error; null for one study",
      hk_ci: pooledOutputs.hk_ci,
      Q: "Cochran's Q",
      Q_df: "its degrees of freedom",
      Q_p: "its p-value; null for one study",
      tau2: "between-study variance",
      I2_Q: "(Q - df) / Q in percent, at least 0; null for one study",
      H2_Q: "Q / df; null for one study",
      tau2_qprofile_ci: pooledOutputs.tau2_qprofile_ci,
      pi_hts_t_km2: pooledOutputs.pi_hts_t_km2,
      p_estimate: "pooled rate",
      p_ci: "its normal interval",
      p_hk_ci: "its Hartung-Knapp interval",
    },
    compute(input) {
      const effects = poolableLogits(readCountLists(input, "k", "n"));
      const method = readChoice<PoolingMethod>(input, "method", poolingMethods);
      readChoice(input, "zero_cell", [zeroCell]);
      const pooled = poolEffects(effects, method, readProbability(input, "level"));
      return {
        k_studies: pooled.studies,
        estimate: pooled.estimate,
        se: pooled.standardError,
        ci: pair(pooled.interval),
        hk_se: pooled.hartungKnappError,
        hk_ci: pair(pooled.hartungKnappInterval),
        Q: pooled.q,
        Q_df: pooled.qDegreesOfFreedom,
        Q_p: pooled.qP,
        tau2: pooled.tau2,
        I2_Q: pooled.i2,
        H2_Q: pooled.h2,
        tau2_qprofile_ci: pair(pooled.tau2Bounds),
        pi_hts_t_km2: pair(pooled.predictionInterval),
        p_estimate: inverseLogit(pooled.estimate),
        p_ci: ratePair(pooled.interval),
        p_hk_ci: ratePair(pooled.hartungKnappInterval),
      };
    },
  },
  {
    name: "pool-logit-level",
    about: "REML pooling of logits at any level",
    inputs: { ...studyInputs, ...levelInput },
    outputs: pooledOutputs,
    compute(input) {
      const effects = poolableLogits(readCountLists(input, "k", "n"));
      const pooled = poolEffects(effects, "REML", readProbability(input, "level"));
      return {
        estimate: pooled.estimate,
        ci: pair(pooled.interval),
        hk_ci: pair(pooled.hartungKnappInterval),
        tau2_qprofile_ci: pair(pooled.tau2Bounds),
        pi_hts_t_km2: pair(pooled.predictionInterval),
      };
    },
  },
  {
    name: "zero-cell",
    about: "What a pooled rate (DerSimonian-Laird) owes to the number added to counts of 0",
    inputs: {
      ...studyInputs,
      add: "what is added to failures and to passes: a number of 0 or more",
      to: "where: only0 (studies without failures or passes), if0all (all, if there is one such), all, none",
    },
    outputs: {
      yi: "logits; null where infinite",
      vi: "their variances; null where infinite",
      tau2: "between-study variance; null, as what follows, where a logit is infinite",
      estimate: "pooled logit",
      se: "its standard error",
      p_estimate: "pooled rate",
      p_ci: "its 95 % interval",
      I2_Q: "(Q - df) / Q in percent, at least 0",
    },
    compute(input) {
      const add = readNumber(input, "add");
      if (add < 0) throw new RangeError(`"add" must be a number of 0 or more but is ${add}`);
      const to = readChoice(input, "to", correctedStudies);
      const effects = logitEffects(readCountLists(input, "k", "n"), add, to);
      const finite = effects.filter((effect) => effect !== null);
      const pooled = finite.length < effects.length ? null : poolEffects(finite, "DL", 0.95);
      return {
        yi: effects.map((effect) => effect?.estimate ?? null),
        vi: effects.map((effect) => effect?.variance ?? null),
        tau2: pooled?.tau2 ?? null,
        estimate: pooled?.estimate ?? null,
        se: pooled?.standardError ?? null,
        p_estimate: pooled === null ? null : inverseLogit(pooled.estimate),
        p_ci: ratePair(pooled?.interval ?? null),
        I2_Q: pooled?.i2 ?? null,
      };
    },
  },
  {
    name: "freeman-tukey",
    about: "Pooling of double arcsines (DerSimonian-Laird) and their back-transformation, with its warning",
    inputs: studyInputs,
    outputs: {
      yi: "mean of the two arcsines",
      vi: "their variances",
      n_harmonic: "harmonic mean of n",
      back_transformed_studies: "each study's rate, transformed back with its own n",
      DL: "tau2, estimate, se, ci and Q on the transformed scale; p_hm and p_hm_ci with the harmonic mean of n; p_inverse_variance_n and its ci with n = 1 / (4 se²); p_sin2 = sin² of the estimate",
      warning: "why the pooled rate is to be used with care",
    },
    compute(input) {
      const studies = readCountLists(input, "k", "n");
      const effects = freemanTukeyEffects(studies);
      const pooled = poolEffects(effects, "DL", 0.95);
      const harmonic = harmonicMeanSize(studies);
      const inverse = 1 / (4 * pooled.standardError ** 2);
      const { lower, upper } = pooled.interval;
      const back = (n: number) => [inverseDoubleArcsine(lower, n), inverseDoubleArcsine(upper, n)];
      return {
        yi: effects.map(({ estimate }) => estimate),
        vi: effects.map(({ variance }) => variance),
        n_harmonic: harmonic,
        back_transformed_studies: effects.map(({ estimate }, index) =>
          inverseDoubleArcsine(estimate, studies[index]?.n ?? Number.NaN),
        ),
        DL: {
          tau2: pooled.tau2,
          estimate: pooled.estimate,
          se: pooled.standardError,
          ci: pair(pooled.interval),
          Q: pooled.q,
          p_hm: inverseDoubleArcsine(pooled.estimate, harmonic),
          p_hm_ci: back(harmonic),
          p_inverse_variance_n: inverseDoubleArcsine(pooled.estimate, inverse),
          p_inverse_variance_n_ci: back(inverse),
          p_sin2: Math.sin(pooled.estimate) ** 2,
        },
        warning: freemanTukeyWarning,
      };
    },
  },
  {
    name: "glmm",
    about: "Binomial-normal mixed model with logit link by maximum likelihood: the recommended pooling",
    inputs: { ...studyInputs, ...levelInput },
    outputs: {
      mu: "mean logit; infinite where no specimen or every specimen failed",
      se_mu: "its standard error, from the observed information in (mu, tau); null where mu is infinite",
      tau2: "between-study variance; null, as all else, where every study is all failures or all passes",
      tau: "its square root",
      boundary: "true where tau2 is 0: the model is one binomial of all counts",
      loglik_marginal: "log-likelihood",
      lrt_tau0: "twice its gain over tau2 = 0",
      p_median: "rate of the middle study",
      p_median_ci: "its normal interval on the logit scale",
      p_marginal_mean: "rate averaged over studies",
    },
    compute(input) {
      const fit = binomialNormal(readCountLists(input, "k", "n"), readProbability(input, "level"));
      return {
        mu: fit?.mu ?? null,
        se_mu: fit?.standardError ?? null,
        tau2: fit?.tau2 ?? null,
        tau: fit?.tau ?? null,
        boundary: fit?.boundary ?? null,
        loglik_marginal: fit?.logLikelihood ?? null,
        lrt_tau0: fit?.likelihoodRatio ?? null,
        p_median: fit?.median ?? null,
        p_median_ci: pair(fit?.medianInterval ?? null),
        p_marginal_mean: fit?.marginalMean ?? null,
      };
    },
  },
  {
    name: "beta-binomial",
    about: "Beta-binomial model by maximum likelihood",
    inputs: { ...studyInputs, ...levelInput },
    outputs: {
      mu: "mean rate",
      rho: "correlation of two specimens of one study",
      loglik: "log-likelihood, binomial coefficients included",
      boundary: "true where rho is 0 (one binomial) or 1 (every study all failures or all passes)",
      mu_ci: "interval of the mean, normal on its logit; nulls where no specimen or every specimen failed",
    },
    compute(input) {
      const fit = betaBinomial(readCountLists(input, "k", "n"), readProbability(input, "level"));
      return {
        mu: fit.mean,
        rho: fit.correlation,
        loglik: fit.logLikelihood,
        boundary: fit.boundary,
        mu_ci: pair(fit.meanInterval),
      };
    },
  },
  {
    name: "leave-one-out",
    about: "Logits pooled again without each study in turn",
    inputs: studyInputs,
    outputs: {
      DL: "DerSimonian-Laird: lists of estimate, se, tau2, Q, I2_Q and pooled rate p, one for each study left out",
      REML: "the same by REML",
    },
    compute(input) {
      const effects = poolableLogits(readCountLists(input, "k", "n"));
      return {
        DL: leftOut(leaveOneOut(effects, "DL", 0.95)),
        REML: leftOut(leaveOneOut(effects, "REML", 0.95)),
      };
    },
  },
  {
    name: "small-study",
    about: "Egger's regression of logits on their standard errors",
    inputs: studyInputs,
    outputs: {
      egger_lm:
        "intercept_at_se0, egger_bias (slope), its se, t, df and p; nulls with fewer than three studies or where the line cannot be told",
    },
    compute(input) {
      const effects = poolableLogits(readCountLists(input, "k", "n"));
      const line = eggerRegression(effects);
      return {
        egger_lm: {
          intercept_at_se0: line?.intercept ?? null,
          egger_bias: line?.bias ?? null,
          se: line?.biasError ?? null,
          t: line?.t ?? null,
          df: Math.max(0, effects.length - 2),
          p: line?.p ?? null,
        },
      };
    },
  },
];
