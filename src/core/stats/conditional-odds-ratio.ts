import { checkOpenProbability } from "./check-arguments.ts";
import { findRootAround } from "./find-root-around.ts";
import type { Interval } from "./interval.ts";
import { type ConditionalWeights, conditionalWeights } from "./noncentral-hypergeometric.ts";
import { smallestWhole } from "./smallest-whole.ts";
import { checkTwoGroups, type TwoGroups } from "./two-groups.ts";

/** Odds ratio of two groups with its exact interval; the estimate is `null` where a margin of the table is empty. */
export interface ConditionalOddsRatio extends Interval {
  estimate: number | null;
}

/**
 * Conditional maximum likelihood odds ratio, and the exact interval that leaves (1 - level) / 2 in each tail.
 *
 * Solved on the log scale to full precision. The estimate is 0 or Infinity where the observed table is an extreme one; with no
 * event, or nothing but events, nothing can be estimated and the interval is 0 to Infinity.
 *
 * Source: Cornfield J (1956) Proc Third Berkeley Symp 4:135-148; Agresti A (2013) Categorical Data Analysis, 3rd ed., 16.6.4
 * (from memory).
 *
 * @throws RangeError for counts that cannot be, or a level outside (0, 1)
 */
export function conditionalOddsRatio(groups: TwoGroups, level: number): ConditionalOddsRatio {
  checkTwoGroups(groups);
  checkOpenProbability("level", level);
  const { x1, n1, x2, n2 } = groups;
  const weights = conditionalWeights(n1, n2, x1 + x2);
  const most = weights.least + weights.logWeights.length - 1;
  if (most === weights.least) return { estimate: null, lower: 0, upper: Number.POSITIVE_INFINITY };

  const start = Math.log(((x1 + 0.5) / (n1 - x1 + 0.5)) * ((n2 - x2 + 0.5) / (x2 + 0.5)));
  const logTail = Math.log((1 - level) / 2);
  const solve = (f: (logOdds: number) => number) => Math.exp(findRootAround(f, start, 1));
  return {
    estimate:
      x1 === weights.least
        ? 0
        : x1 === most
          ? Number.POSITIVE_INFINITY
          : solve((logOdds) => tilted(weights, x1, logOdds).mean - x1),
    lower: x1 === weights.least ? 0 : solve((logOdds) => tilted(weights, x1, logOdds).logAtLeast - logTail),
    upper:
      x1 === most
        ? Number.POSITIVE_INFINITY
        : solve((logOdds) => logTail - tilted(weights, x1, logOdds).logAtMost),
  };
}

/**
 * Mean and log tails of x1 at a log odds ratio.
 *
 * The weights are log-concave: from the largest one outwards they are summed until they are negligible.
 */
function tilted({ least, logWeights }: ConditionalWeights, x1: number, logOdds: number) {
  const logWeight = (i: number) => (logWeights[i] ?? Number.NEGATIVE_INFINITY) + (least + i - x1) * logOdds;
  const peak = smallestWhole(0, (i) => !(logWeight(i + 1) > logWeight(i)));
  const top = logWeight(peak);
  const sums = { total: 0, excess: 0, below: 0, at: 0, above: 0 };
  const add = (i: number): boolean => {
    const weight = Math.exp(logWeight(i) - top);
    if (weight < negligible) return false;
    const distance = least + i - x1;
    sums.total += weight;
    sums.excess += weight * distance;
    if (distance < 0) sums.below += weight;
    else if (distance > 0) sums.above += weight;
    else sums.at = weight;
    return true;
  };
  for (let i = peak; i < logWeights.length && add(i); ) i += 1;
  for (let i = peak - 1; i >= 0 && add(i); ) i -= 1;
  return {
    mean: x1 + sums.excess / sums.total,
    logAtLeast: Math.log((sums.above + sums.at) / sums.total),
    logAtMost: Math.log((sums.below + sums.at) / sums.total),
  };
}

/** Share of the largest weight below which others no longer change any tail that a confidence level can ask for. */
const negligible = 1e-40;
