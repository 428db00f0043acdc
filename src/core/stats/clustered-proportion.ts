import t from "@stdlib/stats-base-dists-t";
import { checkOpenProbability } from "./check-arguments.ts";
import type { Interval } from "./interval.ts";
import {
  type Cluster,
  checkClusters,
  clusterTotals,
  intraclassCorrelation,
} from "./intraclass-correlation.ts";

/** A proportion whose specimens come in clusters. `null` means not estimable. */
export interface ClusteredProportion {
  clusters: number;
  specimens: number;
  estimate: number;
  n0: number | null;
  correlation: number | null;
  /** The correlation with negative values set to 0 */
  correlationTruncated: number | null;
  /** 1 + (weighted mean cluster size - 1) x correlation, for unequal clusters */
  designEffect: number | null;
  /** Specimens divided by that design effect; `null` also where the effect is not above 0 */
  effectiveSampleSize: number | null;
  /** Cluster-robust standard error of the ratio estimator, with factor K/(K - 1) */
  standardError: number | null;
  /** Robust variance over the binomial one */
  ratioDesignEffect: number | null;
  /** On the logit scale, with Student's t on K - 1 degrees of freedom */
  interval: Interval | null;
}

/**
 * Failure rate of specimens that come in clusters, such as the breakers of one panel: ratio estimator with a cluster-robust
 * interval, and how much the clustering costs.
 *
 * Source: ratio estimator: Cochran W G (1977) Sampling Techniques, 3rd ed., section 3.12; design effect for unequal clusters:
 * Kish L (1965) Survey Sampling; logit interval on t: Korn E L, Graubard B I (1998) Surv Methodol 24:193-201.
 *
 * @throws RangeError without clusters, for counts that cannot be, or a level outside (0, 1)
 */
export function clusteredProportion(clusters: readonly Cluster[], level: number): ClusteredProportion {
  checkClusters(clusters);
  checkOpenProbability("level", level);
  const count = clusters.length;
  const { total, failures, squares } = clusterTotals(clusters);
  const { n0, correlation } = intraclassCorrelation(clusters);
  const designEffect = correlation === null ? null : 1 + (squares / total - 1) * correlation;
  const estimate = failures / total;
  const variance = ratioVariance(clusters);
  const binomialVariance = (estimate * (1 - estimate)) / total;
  const varies = variance !== null && binomialVariance > 0;
  return {
    clusters: count,
    specimens: total,
    estimate,
    n0,
    correlation,
    correlationTruncated: correlation === null ? null : Math.max(0, correlation),
    designEffect,
    effectiveSampleSize: designEffect !== null && designEffect > 0 ? total / designEffect : null,
    standardError: variance === null ? null : Math.sqrt(variance),
    ratioDesignEffect: varies ? variance / binomialVariance : null,
    interval: varies
      ? logitInterval(failures, total, variance, -t.quantile((1 - level) / 2, count - 1))
      : null,
  };
}

/**
 * Variance of the ratio estimator over clusters: K/(K - 1) Σ (y - m p)² / M². `null` for one cluster.
 *
 * Source: Cochran W G (1977) Sampling Techniques, 3rd ed., section 3.12.
 */
export function ratioVariance(clusters: readonly Cluster[]): number | null {
  const count = clusters.length;
  if (count < 2) return null;
  const { total, failures } = clusterTotals(clusters);
  const p = failures / total;
  const squares = clusters.reduce((sum, { y, m }) => sum + (y - m * p) ** 2, 0);
  return ((count / (count - 1)) * squares) / total ** 2;
}

function logitInterval(failures: number, total: number, variance: number, reach: number): Interval {
  const logit = Math.log(failures / (total - failures));
  const p = failures / total;
  const half = (reach * Math.sqrt(variance)) / (p * (1 - p));
  const back = (x: number) => 1 / (1 + Math.exp(-x));
  return { lower: back(logit - half), upper: back(logit + half) };
}
