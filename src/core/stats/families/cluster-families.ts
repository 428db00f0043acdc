import { clusteredProportion } from "../clustered-proportion.ts";
import type { Family } from "../family.ts";
import {
  type FamilyInput,
  readCountLists,
  readNumber,
  readObjects,
  readProbability,
  readWhole,
} from "../family-input.ts";
import type { Cluster } from "../intraclass-correlation.ts";
import { panelRisk } from "../panel-risk.ts";
import { type PosteriorRate, posteriorRate } from "../posterior-rate.ts";
import { raoScott } from "../rao-scott.ts";

function readClusters(input: FamilyInput): Cluster[] {
  return readCountLists(input, "y", "m").map(({ k, n }) => ({ y: k, m: n }));
}

function readClusterGroups(input: FamilyInput): Cluster[][] {
  return readObjects(input, "groups").map((group, index) => {
    try {
      return readClusters(group);
    } catch (error) {
      throw new RangeError(`"groups[${index}]": ${error instanceof Error ? error.message : String(error)}`);
    }
  });
}

function readRate(input: FamilyInput, failuresKey: string, testedKey: string): PosteriorRate {
  const prior = readNumber(input, "prior_a_b");
  if (prior <= 0) throw new RangeError(`"prior_a_b" must be above 0 but is ${prior}`);
  const tested = readWhole(input, testedKey);
  const failures = readWhole(input, failuresKey);
  if (failures > tested) {
    throw new RangeError(
      `"${failuresKey}" must be a whole number from 0 to ${testedKey} = ${tested} but is ${failures}`,
    );
  }
  return posteriorRate(failures, tested, prior);
}

/** Specimens that come in clusters, and what rates mean for a panel. */
export const clusterFamilies: readonly Family[] = [
  {
    name: "cluster",
    about:
      "Rate of specimens that come in clusters: intraclass correlation, design effects, cluster-robust interval",
    inputs: {
      y: "failures in each cluster: whole numbers from 0 to m",
      m: "size of each cluster: whole numbers of 1 or more",
      level: "two-sided confidence level: above 0 and below 1",
    },
    outputs: {
      n_clusters: "number of clusters",
      n_units: "number of specimens",
      p: "failures over specimens",
      n0: "weighted cluster size; null for one cluster",
      icc_anova: "ANOVA intraclass correlation, may be negative; null where not estimable",
      icc_anova_truncated: "the same, at least 0",
      deff_kish_unequal: "design effect from it, for unequal clusters",
      n_eff_icc: "effective sample size from it",
      se_ratio: "cluster-robust standard error",
      deff_ratio: "robust variance over the binomial one",
      ci_logit_t: "robust interval on the logit scale, t with clusters - 1 degrees of freedom",
    },
    compute(input) {
      const result = clusteredProportion(readClusters(input), readProbability(input, "level"));
      return {
        n_clusters: result.clusters,
        n_units: result.specimens,
        p: result.estimate,
        n0: result.n0,
        icc_anova: result.correlation,
        icc_anova_truncated: result.correlationTruncated,
        deff_kish_unequal: result.designEffect,
        n_eff_icc: result.effectiveSampleSize,
        se_ratio: result.standardError,
        deff_ratio: result.ratioDesignEffect,
        ci_logit_t: result.interval === null ? null : [result.interval.lower, result.interval.upper],
      };
    },
  },
  {
    name: "rao-scott",
    about: "Rao-Scott test that groups of clusters have one rate",
    inputs: { groups: "two or more objects, each with y and m: failures in and size of each cluster" },
    outputs: {
      p: "rate of each group",
      deff: "design effect of each group; null where not estimable",
      n_eff: "effective sample size of each group",
      x2_naive: "Pearson's chi-square as if specimens were independent",
      x2_rao_scott: "chi-square of the counts divided by the design effects",
      p_rao_scott: "its p-value",
    },
    compute(input) {
      const groups = readClusterGroups(input);
      if (groups.length < 2) throw new RangeError(`"groups" must be two or more but are ${groups.length}`);
      const result = raoScott(groups);
      return {
        p: result.rates,
        deff: result.designEffects,
        n_eff: result.effectiveSampleSizes,
        x2_naive: result.naiveStatistic,
        x2_rao_scott: result.statistic,
        p_rao_scott: result.p,
      };
    },
  },
  {
    name: "panel-risk",
    about: "Probability that at least one breaker of a panel would fail, with the uncertainty of the rates",
    inputs: {
      n_single: "one-pole breakers in the panel: a whole number of 0 or more",
      n_double: "two-pole breakers in the panel: a whole number of 0 or more",
      k_single: "failures among the one-pole breakers tested: a whole number from 0 to N_single",
      N_single: "one-pole breakers tested: a whole number of 0 or more",
      k_double: "failures among the two-pole breakers tested: a whole number from 0 to N_double",
      N_double: "two-pole breakers tested: a whole number of 0 or more",
      prior_a_b: "both shapes of the beta prior, above 0: 0.5 for Jeffreys', 1 for uniform",
      level: "level of the interval: above 0 and below 1",
    },
    outputs: {
      mean: "mean over the uncertainty of the rates",
      sd: "standard deviation",
      median: "median",
      ci_equal_tailed: "equal-tailed interval",
      upper_one_sided_95: "upper bound, 95 % one-sided",
    },
    compute(input) {
      const single = { count: readWhole(input, "n_single"), rate: readRate(input, "k_single", "N_single") };
      const double = { count: readWhole(input, "n_double"), rate: readRate(input, "k_double", "N_double") };
      const risk = panelRisk({ single, double }, readProbability(input, "level"));
      return {
        mean: risk.mean,
        sd: risk.standardDeviation,
        median: risk.median,
        ci_equal_tailed: [risk.interval.lower, risk.interval.upper],
        upper_one_sided_95: risk.upperOneSided95,
      };
    },
  },
];
