import { conditionalWeights } from "./noncentral-hypergeometric.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/** P-values of Fisher's exact test. `less` and `greater` say of the first group's rate against the second's. */
export interface FisherExact {
  twoSided: number;
  less: number;
  greater: number;
  /** Two-sided with half the probability of the tables as likely as the one observed */
  midPTwoSided: number;
}

/**
 * Fisher's exact test of equal rates in two groups, conditional on the total number of events.
 *
 * Two-sided by the probability rule: all tables no likelier than the observed one, where a relative difference of 1e-7 counts
 * as a tie. With no event, or nothing but events, every p-value is 1.
 *
 * Source: Fisher R A (1935) J R Stat Soc 98:39-82; mid-P: Lancaster H O (1961) JASA 56:223-234; the tie rule is common
 * practice.
 *
 * @throws RangeError for counts that cannot be
 */
export function fisherExact(groups: TwoGroups): FisherExact {
  checkTwoGroups(groups);
  const { x1, n1, x2, n2 } = groups;
  const { least, logWeights } = conditionalWeights(n1, n2, x1 + x2);
  const observed = logWeights[x1 - least] ?? 0;
  const tie = Math.log1p(1e-7);
  const sums = { total: 0, less: 0, greater: 0, rarer: 0, tied: 0 };
  logWeights.forEach((logWeight, i) => {
    const weight = Math.exp(logWeight);
    sums.total += weight;
    if (least + i <= x1) sums.less += weight;
    if (least + i >= x1) sums.greater += weight;
    if (Math.abs(logWeight - observed) <= tie) sums.tied += weight;
    else if (logWeight < observed) sums.rarer += weight;
  });
  return {
    twoSided: Math.min(1, (sums.rarer + sums.tied) / sums.total),
    less: sums.less / sums.total,
    greater: sums.greater / sums.total,
    midPTwoSided: (sums.rarer + sums.tied / 2) / sums.total,
  };
}
