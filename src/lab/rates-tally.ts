import type { RateInterval, RateRow } from "../contract/rates.ts";
import { clopperPearson } from "../core/stats/clopper-pearson.ts";
import { clusteredProportion } from "../core/stats/clustered-proportion.ts";
import type { Cluster } from "../core/stats/intraclass-correlation.ts";
import { jeffreys } from "../core/stats/jeffreys.ts";
import { wilson } from "../core/stats/wilson.ts";
import type { Grade } from "../store/failure-counts.ts";

/** Counts of one stratum while they are gathered. */
export class RateTally {
  readonly counts: Record<Grade, number> = { failed: 0, passed: 0, undetermined: 0, excluded: 0 };
  readonly #clusters = new Map<number, Cluster>();
  #loneFailed = 0;
  #lonePassed = 0;

  /** @param cluster number of the cluster; null for specimens each of which stands alone */
  add(grade: Grade, specimens: number, cluster: number | null): void {
    this.counts[grade] += specimens;
    if (grade !== "failed" && grade !== "passed") return;
    const failed = grade === "failed" ? specimens : 0;
    if (cluster === null) {
      this.#loneFailed += failed;
      this.#lonePassed += specimens - failed;
      return;
    }
    const known = this.#clusters.get(cluster);
    if (known === undefined) this.#clusters.set(cluster, { y: failed, m: specimens });
    else {
      known.y += failed;
      known.m += specimens;
    }
  }

  /** Adds all of another stratum. */
  addAll(other: RateTally): void {
    for (const grade of Object.keys(this.counts) as Grade[]) this.counts[grade] += other.counts[grade];
    this.#loneFailed += other.#loneFailed;
    this.#lonePassed += other.#lonePassed;
    for (const [cluster, { y, m }] of other.#clusters) {
      const known = this.#clusters.get(cluster);
      if (known === undefined) this.#clusters.set(cluster, { y, m });
      else {
        known.y += y;
        known.m += m;
      }
    }
  }

  /** Clusters of the specimens that were decided; a specimen whose job is not known is one of its own. */
  clusters(): Cluster[] {
    return [
      ...this.#clusters.values(),
      ...Array.from({ length: this.#loneFailed }, () => ({ y: 1, m: 1 })),
      ...Array.from({ length: this.#lonePassed }, () => ({ y: 0, m: 1 })),
    ];
  }

  /** The row of this stratum. Without anything decided, whatever rests on it is null. */
  row(
    stratum: RateRow["stratum"],
    label: string,
    { confidence, clustered }: { confidence: number; clustered: boolean },
  ): RateRow {
    const { failed: k, passed, undetermined, excluded } = this.counts;
    const n = k + passed;
    const all = n + undetermined + excluded;
    const interval = (method: (k: number, n: number, level: number) => RateInterval) =>
      n === 0 ? null : method(k, n, confidence);
    const spread = n === 0 || !clustered ? null : clusteredProportion(this.clusters(), confidence);
    return {
      stratum,
      label,
      k,
      n,
      estimate: n === 0 ? null : k / n,
      intervals: {
        clopperPearson: interval(clopperPearson),
        wilson: interval(wilson),
        jeffreys: interval(jeffreys),
        clusterRobust: spread?.interval ?? null,
      },
      undetermined,
      excluded,
      lowest: all === 0 ? null : k / all,
      highest: all === 0 ? null : (k + undetermined + excluded) / all,
      clusters: clustered ? (spread?.clusters ?? 0) : null,
      intraclassCorrelation: spread?.correlation ?? null,
      // A negative intraclass correlation counts as none: clusters are never taken to make a sample worth more than its size.
      designEffect: spread?.designEffect == null ? null : Math.max(1, spread.designEffect),
      effectiveSampleSize:
        spread?.effectiveSampleSize == null ? null : Math.min(n, spread.effectiveSampleSize),
      robustDesignEffect: spread?.ratioDesignEffect ?? null,
    };
  }
}
