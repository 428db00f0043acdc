import type { RateInterval } from "../contract/rates.ts";
import type { PoolModel } from "../contract/studies.ts";
import { betaBinomial } from "../core/stats/beta-binomial.ts";
import { binomialNormal } from "../core/stats/binomial-normal.ts";
import { clopperPearson } from "../core/stats/clopper-pearson.ts";
import type { Interval } from "../core/stats/interval.ts";
import { leaveOneOut } from "../core/stats/leave-one-out.ts";
import { inverseLogit, logit } from "../core/stats/logistic.ts";
import { poolableLogits } from "../core/stats/logit-effects.ts";
import { twoSidedNormalQuantile } from "../core/stats/normal-quantile.ts";
import { type PoolingMethod, poolEffects } from "../core/stats/pool-effects.ts";
import { betaSpread, predictionInterval } from "../core/stats/prediction-interval.ts";
import type { Study } from "../core/stats/study.ts";
import { formatPercent } from "../core/units/format-percent.ts";

/** What a model makes of some studies, as rates. */
export interface PoolFit {
  pooled: { estimate: number; lower: number; upper: number } | null;
  notEstimable: string | null;
  /** Mean logit and its standard error, for comparison between groups; null where not estimable. */
  onLogits: { estimate: number; standardError: number } | null;
  prediction: RateInterval | null;
  hartungKnapp: RateInterval | null;
  tau2: number | null;
  tau2Bounds: { lower: number; upper: number | null } | null;
  correlation: number | null;
  marginalMean: number | null;
  /** In the order of the studies, of 1. */
  weights: (number | null)[];
  notes: string[];
}

/** The models in words. */
export const modelWords: Readonly<Record<PoolModel, string>> = {
  glmm: "binomial-normal mixed model, logit link, maximum likelihood",
  reml: "random effects on logits, between-study variance by restricted maximum likelihood",
  dl: "random effects on logits, between-study variance by DerSimonian and Laird's moments",
  pm: "random effects on logits, between-study variance by Paule and Mandel",
  common: "common effect on logits: one rate for all studies",
  "beta-binomial": "beta-binomial model, maximum likelihood: rates beta distributed over studies",
};

const logitMethods: Readonly<Partial<Record<PoolModel, PoolingMethod>>> = {
  reml: "REML",
  dl: "DL",
  pm: "PM",
  common: "EE",
};

/** Studies pooled by a model. One study, and studies none or all of whose specimens failed, are no pool: said in words. */
export function poolFit(studies: readonly Study[], model: PoolModel, level: number): PoolFit {
  const refusal = notPoolable(studies, level);
  if (refusal !== null) return { ...nothing(studies.length), notEstimable: refusal };
  if (model === "glmm") return mixedModel(studies, level);
  if (model === "beta-binomial") return betaModel(studies, level);
  return onLogits(studies, logitMethods[model] ?? "REML", level);
}

/** The pooled rate without each study in turn; null where what is left is no pool. */
export function ratesWithoutEach(
  studies: readonly Study[],
  model: PoolModel,
  level: number,
): (number | null)[] {
  const method = logitMethods[model];
  const withoutEach = studies.map((_, left) => studies.filter((_study, at) => at !== left));
  if (method === undefined)
    return withoutEach.map((rest) =>
      rest.length === 0 ? null : (poolFit(rest, model, level).pooled?.estimate ?? null),
    );
  const pooled = leaveOneOut(poolableLogits(studies), method, level);
  return withoutEach.map((rest, at) => {
    const one = pooled[at];
    return one == null || notPoolable(rest, level) !== null ? null : inverseLogit(one.estimate);
  });
}

function notPoolable(studies: readonly Study[], level: number): string | null {
  const tested = studies.reduce((sum, { n }) => sum + n, 0);
  const failed = studies.reduce((sum, { k }) => sum + k, 0);
  if (studies.length === 1)
    return "Not estimable: one study is no pool. Its own rate and interval stand for themselves; how studies differ cannot be told from one.";
  if (failed !== 0 && failed !== tested) return null;
  const { lower, upper } = clopperPearson(failed, tested, level);
  return failed === 0
    ? `Not estimable: no specimen failed in any study, so that no model on logits has a rate. If all ${tested} specimens were one sample, the exact interval would be 0 % to ${formatPercent(upper)}.`
    : `Not estimable: every specimen failed in every study, so that no model on logits has a rate. If all ${tested} specimens were one sample, the exact interval would be ${formatPercent(lower)} to 100 %.`;
}

function nothing(studies: number): PoolFit {
  return {
    pooled: null,
    notEstimable: null,
    onLogits: null,
    prediction: null,
    hartungKnapp: null,
    tau2: null,
    tau2Bounds: null,
    correlation: null,
    marginalMean: null,
    weights: Array.from({ length: studies }, () => null),
    notes: [],
  };
}

const asRates = ({ lower, upper }: Interval): RateInterval => ({
  lower: inverseLogit(lower),
  upper: inverseLogit(upper),
});

const twoStudies = "Not estimable from two studies: where a new study's rate is expected.";

function onLogits(studies: readonly Study[], method: PoolingMethod, level: number): PoolFit {
  const pooled = poolEffects(poolableLogits(studies), method, level);
  const notes: string[] = [];
  const zero = studies.filter(({ k, n }) => k === 0 || k === n).length;
  if (zero > 0)
    notes.push(
      `One half was added to failures and passes of ${zero === 1 ? "one study" : `${zero} studies`} without failures or without passes: this pulls their rates towards 50 %. The mixed model needs no such addition.`,
    );
  if (method !== "EE" && pooled.tau2 === 0)
    notes.push(
      "The between-study variance is at its boundary, 0: the studies differ no more than chance would have it.",
    );
  if (method === "EE")
    notes.push("A common effect takes all studies to have one rate; no prediction interval belongs to it.");
  else if (pooled.predictionInterval === null) notes.push(twoStudies);
  return {
    ...nothing(studies.length),
    pooled: { estimate: inverseLogit(pooled.estimate), ...asRates(pooled.interval) },
    onLogits: { estimate: pooled.estimate, standardError: pooled.standardError },
    prediction:
      method === "EE" || pooled.predictionInterval === null ? null : asRates(pooled.predictionInterval),
    hartungKnapp:
      method === "EE" || pooled.hartungKnappInterval === null ? null : asRates(pooled.hartungKnappInterval),
    tau2: pooled.tau2,
    tau2Bounds: method === "EE" ? null : pooled.tau2Bounds,
    weights: pooled.weights,
    notes,
  };
}

const informationNote =
  "The weights are each study's share of information under the fitted model, an approximation.";

function mixedModel(studies: readonly Study[], level: number): PoolFit {
  const fit = binomialNormal(studies, level);
  if (fit === null || fit.medianInterval === null || fit.standardError === null)
    return {
      ...nothing(studies.length),
      notEstimable:
        "Not estimable: in every study either all specimens failed or none did, so that the spread between studies has no finite estimate.",
    };
  const prediction = predictionInterval(
    { mean: fit.mu, standardError: fit.standardError, tau2: fit.tau2, studies: studies.length },
    level,
  );
  const notes = ["The recommended model: it works on the counts themselves.", informationNote];
  if (fit.boundary)
    notes.push(
      "The between-study variance is at its boundary, 0: the studies differ no more than chance would have it, and the model is one binomial of all counts.",
    );
  else
    notes.push(
      "The pooled rate is that of the middle study; the rate averaged over studies stands beside it.",
    );
  if (prediction === null) notes.push(twoStudies);
  return {
    ...nothing(studies.length),
    pooled: { estimate: fit.median, ...fit.medianInterval },
    onLogits: { estimate: fit.mu, standardError: fit.standardError },
    prediction: prediction === null ? null : asRates(prediction),
    tau2: fit.tau2,
    marginalMean: fit.marginalMean,
    weights: shares(studies.map(({ n }) => 1 / (1 / (n * fit.median * (1 - fit.median)) + fit.tau2))),
    notes,
  };
}

function betaModel(studies: readonly Study[], level: number): PoolFit {
  const fit = betaBinomial(studies, level);
  if (fit.meanInterval === null)
    return {
      ...nothing(studies.length),
      notEstimable: "Not estimable: no specimen or every specimen failed.",
    };
  const prediction = betaSpread(fit.mean, fit.correlation, level);
  const notes = [informationNote];
  if (fit.boundary)
    notes.push(
      fit.correlation === 0
        ? "The correlation within a study is at its boundary, 0: the studies differ no more than chance would have it, and the model is one binomial of all counts."
        : "The correlation within a study is at its boundary, 1: in every study either all specimens failed or none did.",
    );
  if (prediction !== null)
    notes.push("The prediction interval leaves out the uncertainty of the mean and of the correlation.");
  const { lower, upper } = fit.meanInterval;
  return {
    ...nothing(studies.length),
    pooled: { estimate: fit.mean, lower, upper },
    onLogits: halfWidthOnLogits(fit.mean, fit.meanInterval, level),
    prediction,
    correlation: fit.correlation,
    marginalMean: fit.mean,
    weights: shares(studies.map(({ n }) => n / (1 + (n - 1) * fit.correlation))),
    notes,
  };
}

/** The interval of the mean is symmetric on its logit, with the normal quantile of the level. */
function halfWidthOnLogits(mean: number, { lower, upper }: Interval, level: number) {
  return {
    estimate: logit(mean),
    standardError: (logit(upper) - logit(lower)) / (2 * twoSidedNormalQuantile(level)),
  };
}

function shares(information: readonly number[]): number[] {
  const total = information.reduce((sum, value) => sum + value, 0);
  return information.map((value) => value / total);
}
