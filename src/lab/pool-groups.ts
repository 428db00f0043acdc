import type { StudyCounts } from "../contract/ledger-entries.ts";
import type { PooledRate, PoolModel, PoolView, poolGroupings } from "../contract/studies.ts";
import { subgroupDifference } from "../core/stats/subgroup-difference.ts";
import { criterionOf } from "./pool-criteria.ts";
import { poolFit } from "./pool-fit.ts";

/** Groups of studies, each pooled on its own by the same model, and whether they differ. */
export function poolGroups(
  studies: readonly StudyCounts[],
  by: Exclude<(typeof poolGroupings)[number], "none">,
  model: PoolModel,
  confidence: number,
): PoolView["groups"] {
  const labelOf = (study: StudyCounts): string =>
    by === "criterion" ? criterionOf(study) : by === "study" ? study.study : study[by];
  const labels = [...new Set(studies.map(labelOf))].toSorted();
  const fits = labels.map((label) => {
    const members = studies.filter((study) => labelOf(study) === label);
    const counts = members.map(({ failed, tested }) => ({ k: failed, n: tested }));
    return { label, studies: members.length, fit: poolFit(counts, model, confidence) };
  });
  const pooled = fits.flatMap(({ label, studies: number, fit }): PooledRate[] =>
    fit.pooled === null ? [] : [{ label, studies: number, ...fit.pooled }],
  );
  const means = fits.flatMap(({ fit }) =>
    fit.onLogits === null
      ? []
      : [{ estimate: fit.onLogits.estimate, variance: fit.onLogits.standardError ** 2 }],
  );
  const left = fits.filter(({ fit }) => fit.pooled === null).map(({ label }) => label);
  const apart = left.length === 0 ? "" : ` Not estimable, and left out: ${left.join("; ")}.`;
  const test = means.length < 2 ? null : subgroupDifference(means);
  return {
    by,
    pooled,
    q: test?.q ?? null,
    p: test?.p ?? null,
    words:
      test === null
        ? `Whether groups by ${by} differ is not estimable: fewer than two groups can be pooled.${apart}`
        : `Difference between groups by ${by}: Q = ${test.q.toFixed(2)} on ${test.degreesOfFreedom} degrees of freedom, p = ${Number(test.p.toPrecision(3))}.${apart}`,
  };
}
