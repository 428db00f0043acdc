import { checkCounts } from "./check-arguments.ts";

/** One cluster, such as a panel: `y` failures among `m` specimens. */
export interface Cluster {
  y: number;
  m: number;
}

/** How alike the specimens of a cluster are. `null` means not estimable. */
export interface IntraclassCorrelation {
  /** Weighted cluster size n0, below the mean size unless all are equal; `null` for one cluster */
  n0: number | null;
  /** May be negative; `null` for one cluster, clusters of one only, or where all specimens are alike */
  correlation: number | null;
}

/**
 * ANOVA estimate of the intraclass correlation of a yes/no outcome.
 *
 * Source: Ridout M S, Demétrio C G B, Firth D (1999) Biometrics 55:137-148, section 2.1 (the ANOVA estimator).
 *
 * @throws RangeError without clusters, or for counts that cannot be
 */
export function intraclassCorrelation(clusters: readonly Cluster[]): IntraclassCorrelation {
  checkClusters(clusters);
  const count = clusters.length;
  const { total, failures, squares } = clusterTotals(clusters);
  if (count === 1) return { n0: null, correlation: null };
  const n0 = (total - squares / total) / (count - 1);
  if (total === count || failures === 0 || failures === total) return { n0, correlation: null };
  const p = failures / total;
  let between = 0;
  let within = 0;
  for (const { y, m } of clusters) {
    between += m * (y / m - p) ** 2;
    within += (y * (m - y)) / m;
  }
  const meanBetween = between / (count - 1);
  const meanWithin = within / (total - count);
  return { n0, correlation: (meanBetween - meanWithin) / (meanBetween + (n0 - 1) * meanWithin) };
}

/** Specimens, failures, and the sum of squared cluster sizes. */
export function clusterTotals(clusters: readonly Cluster[]) {
  const totals = { total: 0, failures: 0, squares: 0 };
  for (const { y, m } of clusters) {
    totals.total += m;
    totals.failures += y;
    totals.squares += m * m;
  }
  return totals;
}

/** Refuse an empty list, or counts that cannot be. @throws RangeError naming the cluster */
export function checkClusters(clusters: readonly Cluster[], where = ""): void {
  if (clusters.length === 0) throw new RangeError(`${where}clusters must be one or more but there are none`);
  for (const [index, { y, m }] of clusters.entries()) checkCounts(y, m, `${where}cluster ${index + 1}: `);
}
