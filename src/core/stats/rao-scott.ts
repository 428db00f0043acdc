import { chiSquareTail } from "./chi-square-tail.ts";
import { ratioVariance } from "./clustered-proportion.ts";
import { type Cluster, checkClusters, clusterTotals } from "./intraclass-correlation.ts";

/** Comparison of rates between groups of clusters. `null` means not estimable. */
export interface RaoScott {
  rates: number[];
  /** Per group; `null` for one cluster, no event or nothing but events */
  designEffects: (number | null)[];
  effectiveSampleSizes: (number | null)[];
  /** Pearson's chi-square as if specimens were independent; `null` without an event, or with nothing but events */
  naiveStatistic: number | null;
  /** The same on counts divided by their group's design effect */
  statistic: number | null;
  p: number | null;
}

/**
 * Rao-Scott test that groups of clusters have one rate: counts and sizes of each group are divided by its design effect.
 *
 * Source: Rao J N K, Scott A J (1992) Biometrics 48:577-585, section 2 (a design effect for each group).
 *
 * @throws RangeError with fewer than two groups, or for counts that cannot be
 */
export function raoScott(groups: readonly (readonly Cluster[])[]): RaoScott {
  if (groups.length < 2) throw new RangeError(`groups must be two or more but are ${groups.length}`);
  const summaries = groups.map((clusters, index) => {
    checkClusters(clusters, `group ${index + 1}, `);
    const { total, failures } = clusterTotals(clusters);
    const variance = ratioVariance(clusters);
    const p = failures / total;
    const binomialVariance = (p * (1 - p)) / total;
    const designEffect = variance === null || binomialVariance === 0 ? null : variance / binomialVariance;
    return { p, failures, total, designEffect };
  });
  const deflated = summaries.flatMap(({ failures, total, designEffect }) => {
    const usable = designEffect !== null && designEffect > 0;
    return usable ? [{ failures: failures / designEffect, total: total / designEffect }] : [];
  });
  const statistic = deflated.length === groups.length ? pearson(deflated) : null;
  return {
    rates: summaries.map(({ p }) => p),
    designEffects: summaries.map(({ designEffect }) => designEffect),
    effectiveSampleSizes: summaries.map(({ total, designEffect }) => {
      return designEffect !== null && designEffect > 0 ? total / designEffect : null;
    }),
    naiveStatistic: pearson(summaries),
    statistic,
    p: statistic === null ? null : chiSquareTail(statistic, groups.length - 1),
  };
}

/** Pearson's chi-square of homogeneity; `null` where the pooled rate is 0 or 1. */
function pearson(groups: readonly { failures: number; total: number }[]): number | null {
  const total = groups.reduce((sum, group) => sum + group.total, 0);
  const failures = groups.reduce((sum, group) => sum + group.failures, 0);
  const p = failures / total;
  if (p === 0 || p === 1) return null;
  return groups.reduce(
    (sum, group) => sum + (group.failures - group.total * p) ** 2 / (group.total * p * (1 - p)),
    0,
  );
}
