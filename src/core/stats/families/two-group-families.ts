import { breslowDay } from "../breslow-day.ts";
import { cochranArmitage } from "../cochran-armitage.ts";
import { conditionalOddsRatio } from "../conditional-odds-ratio.ts";
import type { Family } from "../family.ts";
import {
  type FamilyInput,
  readCountLists,
  readCounts,
  readNumbers,
  readProbability,
  sameLength,
} from "../family-input.ts";
import { fisherExact } from "../fisher-exact.ts";
import { katzRelativeRisk } from "../katz-relative-risk.ts";
import { koopmanRelativeRisk } from "../koopman-relative-risk.ts";
import { mantelHaenszelOddsRatio, mantelHaenszelTest } from "../mantel-haenszel.ts";
import { miettinenNurminen } from "../miettinen-nurminen.ts";
import { newcombeDifference } from "../newcombe-difference.ts";
import type { TwoGroups } from "../two-groups.ts";
import { woolfOddsRatio } from "../woolf-odds-ratio.ts";

const groupInputs = {
  x1: "failures in group 1: a whole number from 0 to n1",
  n1: "number tested in group 1: a whole number of 1 or more",
  x2: "failures in group 2: a whole number from 0 to n2",
  n2: "number tested in group 2: a whole number of 1 or more",
  level: "two-sided confidence level: above 0 and below 1",
};

function readGroups(input: FamilyInput): { groups: TwoGroups; level: number } {
  const first = readCounts(input, "x1", "n1");
  const second = readCounts(input, "x2", "n2");
  return {
    groups: { x1: first.k, n1: first.n, x2: second.k, n2: second.n },
    level: readProbability(input, "level"),
  };
}

function readStrata(input: FamilyInput): { strata: TwoGroups[]; level: number } {
  const first = readCountLists(input, "x1", "n1");
  const second = readCountLists(input, "x2", "n2");
  sameLength("x2", second, "x1", first);
  const strata = first.map(({ k, n }, index) => {
    const { k: x2 = 0, n: n2 = 0 } = second[index] ?? {};
    return { x1: k, n1: n, x2, n2 };
  });
  return { strata, level: readProbability(input, "level") };
}

/** Comparisons of two groups, over strata and along a score. */
export const twoGroupFamilies: readonly Family[] = [
  {
    name: "fisher",
    about: "Fisher's exact test of two rates; conditional odds ratio with its exact interval",
    inputs: groupInputs,
    outputs: {
      p_two_sided: "two-sided p-value, by the probability rule",
      p_less: "p-value against a lower rate in group 1",
      p_greater: "p-value against a higher rate in group 1",
      p_midp_two_sided: "two-sided mid-P",
      cond_or: "conditional maximum likelihood odds ratio; null where a margin is empty",
      cond_or_lower: "exact lower limit",
      cond_or_upper: "exact upper limit",
    },
    compute(input) {
      const { groups, level } = readGroups(input);
      const test = fisherExact(groups);
      const ratio = conditionalOddsRatio(groups, level);
      return {
        p_two_sided: test.twoSided,
        p_less: test.less,
        p_greater: test.greater,
        p_midp_two_sided: test.midPTwoSided,
        cond_or: ratio.estimate,
        cond_or_lower: ratio.lower,
        cond_or_upper: ratio.upper,
      };
    },
  },
  {
    name: "odds-ratio",
    about: "Sample odds ratio with Woolf's logit interval, nothing added to the cells",
    inputs: groupInputs,
    outputs: {
      or: "odds ratio; null where it is 0/0",
      log_or: "its logarithm",
      se_log_or: "standard error of the logarithm",
      lower: "lower limit; null where a cell is empty",
      upper: "upper limit; null where a cell is empty",
    },
    compute(input) {
      const { groups, level } = readGroups(input);
      const ratio = woolfOddsRatio(groups, level);
      return {
        or: ratio.estimate,
        log_or: ratio.logEstimate,
        se_log_or: ratio.standardError,
        lower: ratio.lower,
        upper: ratio.upper,
      };
    },
  },
  {
    name: "risk-difference",
    about: "Difference of two rates, p1 - p2, with Newcombe's and Miettinen and Nurminen's intervals",
    inputs: groupInputs,
    outputs: {
      rd: "p1 - p2",
      newcombe_lower: "hybrid score lower limit",
      newcombe_upper: "hybrid score upper limit",
      mn_lower: "score lower limit with factor N/(N - 1)",
      mn_upper: "score upper limit with factor N/(N - 1)",
    },
    compute(input) {
      const { groups, level } = readGroups(input);
      const newcombe = newcombeDifference(groups, level);
      const score = miettinenNurminen(groups, level);
      return {
        rd: groups.x1 / groups.n1 - groups.x2 / groups.n2,
        newcombe_lower: newcombe.lower,
        newcombe_upper: newcombe.upper,
        mn_lower: score.lower,
        mn_upper: score.upper,
      };
    },
  },
  {
    name: "relative-risk",
    about: "Ratio of two rates, p1 / p2, with Katz's log interval and Koopman's score interval",
    inputs: groupInputs,
    outputs: {
      rr: "p1 / p2; null where it is 0/0",
      katz_lower: "log lower limit; null without an event in each group",
      katz_upper: "log upper limit; null without an event in each group",
      koopman_lower: "score lower limit",
      koopman_upper: "score upper limit",
    },
    compute(input) {
      const { groups, level } = readGroups(input);
      const katz = katzRelativeRisk(groups, level);
      const koopman = koopmanRelativeRisk(groups, level);
      return {
        rr: katz.estimate,
        katz_lower: katz.lower,
        katz_upper: katz.upper,
        koopman_lower: koopman.lower,
        koopman_upper: koopman.upper,
      };
    },
  },
  {
    name: "cmh",
    about:
      "Two groups over strata: Cochran-Mantel-Haenszel test, pooled odds ratio, Breslow-Day test with and without Tarone's correction",
    inputs: {
      x1: "failures in group 1, one for each stratum: whole numbers from 0 to n1",
      n1: "numbers tested in group 1: whole numbers of 1 or more",
      x2: "failures in group 2: whole numbers from 0 to n2",
      n2: "numbers tested in group 2: whole numbers of 1 or more",
      level: groupInputs.level,
    },
    outputs: {
      cmh_no_correction: "chi-square, 1 degree of freedom",
      p_no_correction: "its p-value",
      cmh_corrected: "the same with continuity correction",
      p_corrected: "its p-value",
      or_mh: "Mantel-Haenszel odds ratio; null where it would be 0, infinite or 0/0",
      or_lower: "lower limit (Robins, Breslow and Greenland)",
      or_upper: "upper limit",
      breslow_day: "chi-square of homogeneity",
      p_breslow_day: "its p-value; null with fewer than two informative strata",
      tarone: "the same with Tarone's correction",
      p_tarone: "its p-value",
      df_homogeneity: "degrees of freedom: informative strata - 1",
    },
    compute(input) {
      const { strata, level } = readStrata(input);
      const test = mantelHaenszelTest(strata);
      const ratio = mantelHaenszelOddsRatio(strata, level);
      const homogeneity = breslowDay(strata);
      return {
        cmh_no_correction: test?.plain.statistic ?? null,
        p_no_correction: test?.plain.p ?? null,
        cmh_corrected: test?.corrected.statistic ?? null,
        p_corrected: test?.corrected.p ?? null,
        or_mh: ratio?.estimate ?? null,
        or_lower: ratio?.lower ?? null,
        or_upper: ratio?.upper ?? null,
        breslow_day: homogeneity?.statistic ?? null,
        p_breslow_day: homogeneity?.p ?? null,
        tarone: homogeneity?.taroneStatistic ?? null,
        p_tarone: homogeneity?.taroneP ?? null,
        df_homogeneity: homogeneity?.degreesOfFreedom ?? null,
      };
    },
  },
  {
    name: "cochran-armitage",
    about: "Cochran-Armitage test for a trend of a rate with a score",
    inputs: {
      x: "failures at each score: whole numbers from 0 to n",
      n: "numbers tested at each score: whole numbers of 1 or more",
      scores: "scores: two or more finite numbers",
    },
    outputs: {
      z: "standard normal statistic, above 0 where the rate rises; null where there is none",
      chi2: "its square",
      p_two_sided: "two-sided p-value",
      p_increasing: "p-value against a rising rate",
      p_decreasing: "p-value against a falling rate",
    },
    compute(input) {
      const counts = readCountLists(input, "x", "n");
      const scores = readNumbers(input, "scores");
      sameLength("scores", scores, "x", counts);
      if (scores.length < 2)
        throw new RangeError(`"scores" must be two or more numbers but are ${scores.length}`);
      const trend = cochranArmitage(
        counts.map(({ k, n }, index) => ({ x: k, n, score: scores[index] ?? Number.NaN })),
      );
      return {
        z: trend?.z ?? null,
        chi2: trend?.chiSquare ?? null,
        p_two_sided: trend?.pTwoSided ?? null,
        p_increasing: trend?.pIncreasing ?? null,
        p_decreasing: trend?.pDecreasing ?? null,
      };
    },
  },
];
