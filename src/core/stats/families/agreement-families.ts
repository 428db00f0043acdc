import { blandAltman } from "../bland-altman.ts";
import type { Family } from "../family.ts";
import { readNumberLists, readNumbers, readProbability, sameLength } from "../family-input.ts";
import type { Interval } from "../interval.ts";
import { precision } from "../precision.ts";
import { repeatability } from "../repeatability.ts";

const pair = (interval: Interval | null) =>
  interval === null ? [null, null] : [interval.lower, interval.upper];

/** How well measurements agree with each other. */
export const agreementFamilies: readonly Family[] = [
  {
    name: "bland-altman",
    about: "Limits of agreement of paired measurements, with intervals for the bias and for the limits",
    inputs: {
      a: "measurements by one method: two or more finite numbers",
      b: "measurements of the same things by the other, in the same order",
      level: "two-sided confidence level: above 0 and below 1",
    },
    outputs: {
      n: "number of pairs",
      bias: "mean of a - b",
      sd: "standard deviation of a - b, divisor n - 1",
      "loa_1.96": "bias - 1.96 sd and bias + 1.96 sd",
      bias_ci: "interval for the bias",
      loa_lower_ci_exact:
        "exact interval for the lower limit; nulls with fewer than three pairs or no scatter",
      loa_upper_ci_exact: "exact interval for the upper limit",
    },
    compute(input) {
      const a = readNumbers(input, "a");
      const b = readNumbers(input, "b");
      sameLength("b", b, "a", a);
      if (a.length < 2) throw new RangeError(`"a" must be two or more numbers but has ${a.length}`);
      const agreement = blandAltman(a, b, readProbability(input, "level"));
      return {
        n: agreement.n,
        bias: agreement.bias,
        sd: agreement.standardDeviation,
        "loa_1.96": pair(agreement.limits),
        bias_ci: pair(agreement.biasInterval),
        loa_lower_ci_exact: pair(agreement.lowerLimitInterval),
        loa_upper_ci_exact: pair(agreement.upperLimitInterval),
      };
    },
  },
  {
    name: "repeatability",
    about: "Repeatability from duplicates",
    inputs: {
      first: "first measurement of each thing: finite numbers",
      second: "second measurement of each, in the same order",
    },
    outputs: { within_sd: "√(Σ d² / 2n)", "repeatability_1.96": "1.96 √2 within_sd" },
    compute(input) {
      const first = readNumbers(input, "first");
      const second = readNumbers(input, "second");
      sameLength("second", second, "first", first);
      const result = repeatability(first, second);
      return { within_sd: result.withinStandardDeviation, "repeatability_1.96": result.limit };
    },
  },
  {
    name: "precision",
    about: "Repeatability and reproducibility over labs, one-way layout (ISO 5725-2 formulae)",
    inputs: { labs: "one list of results for each lab: finite numbers" },
    outputs: {
      grand_mean: "mean of all results",
      ms_between: "mean square between labs; null for one lab",
      ms_within: "mean square within labs; null where no lab has two results",
      n_bar: "weighted number of results per lab",
      s_r: "repeatability standard deviation",
      s_L: "between-lab standard deviation, 0 where its variance comes out negative",
      s_R: "reproducibility standard deviation",
    },
    compute(input) {
      const result = precision(readNumberLists(input, "labs"));
      return {
        grand_mean: result.grandMean,
        ms_between: result.meanSquareBetween,
        ms_within: result.meanSquareWithin,
        n_bar: result.meanCount,
        s_r: result.repeatability,
        s_L: result.betweenLab,
        s_R: result.reproducibility,
      };
    },
  },
];
