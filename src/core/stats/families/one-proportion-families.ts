import { agrestiCoull } from "../agresti-coull.ts";
import { clopperPearson } from "../clopper-pearson.ts";
import type { Family } from "../family.ts";
import { type FamilyInput, readCounts, readProbability } from "../family-input.ts";
import type { Interval } from "../interval.ts";
import { jeffreys, jeffreysMean } from "../jeffreys.ts";
import { midP } from "../mid-p.ts";
import { oneSidedBounds } from "../one-sided-bounds.ts";
import { ruleOfThree } from "../rule-of-three.ts";
import { wilson } from "../wilson.ts";
import { wilsonCorrected } from "../wilson-corrected.ts";

const countInputs = {
  k: "number of failures: a whole number from 0 to n",
  n: "number tested: a whole number of 1 or more",
};
const levelInput = { level: "two-sided confidence level: above 0 and below 1" };
const confidenceInput = { confidence: "one-sided confidence: above 0 and below 1" };
const limitOutputs = { lower: "lower limit", upper: "upper limit" };

function readSample(input: FamilyInput) {
  return { ...readCounts(input), level: readProbability(input, "level") };
}

/** A two-sided interval around k/n. */
function intervalFamily(
  name: string,
  method: string,
  interval: (k: number, n: number, level: number) => Interval,
): Family {
  return {
    name,
    about: `Interval for one proportion: ${method}`,
    inputs: { ...countInputs, ...levelInput },
    outputs: { estimate: "k / n", ...limitOutputs },
    compute(input) {
      const { k, n, level } = readSample(input);
      return { estimate: k / n, ...interval(k, n, level) };
    },
  };
}

/** Intervals and bounds for one proportion. */
export const oneProportionFamilies: readonly Family[] = [
  intervalFamily("binom/clopper-pearson", "exact (Clopper-Pearson)", clopperPearson),
  intervalFamily("binom/wilson", "Wilson score, no continuity correction", wilson),
  intervalFamily("binom/wilson-cc", "Wilson score with continuity correction", wilsonCorrected),
  intervalFamily("binom/mid-p", "mid-P exact", midP),
  {
    name: "binom/jeffreys",
    about: "Interval for one proportion: equal tails of the posterior under Jeffreys' prior",
    inputs: { ...countInputs, ...levelInput },
    outputs: { estimate: "k / n", posterior_mean: "(k + 1/2) / (n + 1)", ...limitOutputs },
    compute(input) {
      const { k, n, level } = readSample(input);
      return { estimate: k / n, posterior_mean: jeffreysMean(k, n), ...jeffreys(k, n, level) };
    },
  },
  {
    name: "binom/agresti-coull",
    about: "Interval for one proportion: Agresti-Coull, z²/2 added to both outcomes",
    inputs: { ...countInputs, ...levelInput },
    outputs: { centre: "(k + z²/2) / (n + z²)", ...limitOutputs },
    compute(input) {
      const { k, n, level } = readSample(input);
      return { ...agrestiCoull(k, n, level) };
    },
  },
  {
    name: "binom-onesided",
    about: "One-sided bounds for one proportion, all of 1 - confidence in one tail",
    inputs: { ...countInputs, ...confidenceInput },
    outputs: {
      cp_upper: "exact upper bound",
      cp_lower: "exact lower bound",
      wilson_upper: "Wilson upper bound",
      wilson_lower: "Wilson lower bound",
      jeffreys_upper: "Jeffreys upper bound",
      jeffreys_lower: "Jeffreys lower bound",
      midp_upper: "mid-P upper bound",
      midp_lower: "mid-P lower bound",
    },
    compute(input) {
      const { k, n } = readCounts(input);
      const bounds = oneSidedBounds(k, n, readProbability(input, "confidence"));
      return {
        cp_upper: bounds.clopperPearson.upper,
        cp_lower: bounds.clopperPearson.lower,
        wilson_upper: bounds.wilson.upper,
        wilson_lower: bounds.wilson.lower,
        jeffreys_upper: bounds.jeffreys.upper,
        jeffreys_lower: bounds.jeffreys.lower,
        midp_upper: bounds.midP.upper,
        midp_lower: bounds.midP.lower,
      };
    },
  },
  {
    name: "rule-of-three",
    about: "No failure in n tests: the rule of three beside the exact upper bounds",
    inputs: { k: "number of failures: 0", n: countInputs.n, ...confidenceInput },
    outputs: {
      rule_of_three: "3 / n at confidence 0.95, else null",
      rule_of_three_clipped: "the same, at most 1",
      exact_one_sided: "1 - (1 - confidence)^(1/n)",
      exact_two_sided_upper: "upper end of the exact two-sided interval",
    },
    compute(input) {
      const { k, n } = readCounts(input);
      if (k !== 0) throw new RangeError(`"k" must be 0 for the rule of three but is ${k}`);
      const bounds = ruleOfThree(n, readProbability(input, "confidence"));
      return {
        rule_of_three: bounds.ruleOfThree,
        rule_of_three_clipped: bounds.ruleOfThreeClipped,
        exact_one_sided: bounds.exactOneSided,
        exact_two_sided_upper: bounds.exactTwoSidedUpper,
      };
    },
  },
];
