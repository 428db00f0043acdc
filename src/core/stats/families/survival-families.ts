import type { Family } from "../family.ts";
import { type FamilyInput, readObjects, readProbability } from "../family-input.ts";
import type { Interval } from "../interval.ts";
import { kaplanMeier } from "../kaplan-meier.ts";
import { fitLocationScale, type LocationScaleFit, whyNoFit } from "../location-scale-fit.ts";
import { type LogRankTest, logRank } from "../log-rank.ts";
import { smallestExtremeValue, standardNormal } from "../standard-distribution.ts";
import { survivalLimits } from "../survival-limits.ts";
import { survivalQuantile, survivalQuantileLimits } from "../survival-quantile.ts";
import { turnbull } from "../turnbull.ts";
import { readIntervals, readLabels, readObservations } from "./_survival-input.ts";

const timeInputs = {
  time: "times: numbers of 0 or more",
  status: "1 where the event was seen at that time, 0 where watching ended",
};
const levelInput = { level: "two-sided confidence level: above 0 and below 1" };
const groupInput = { group: "group of each time: text or numbers, two or more different" };
const coding =
  "event lower==upper; right-censored upper=null; left-censored lower=null; interval lower<upper";
const intervalInputs = {
  lower: "times known not to be reached by the event; null for a left-censored one",
  upper: "times by which the event was seen; null for a right-censored one",
};
const fittedOutputs = {
  mu_log: "location of ln(time); null, as all else, where the likelihood has no finite maximum",
  sigma: "scale of ln(time)",
  se_mu: "standard error of the location",
  se_log_sigma: "standard error of the logarithm of the scale",
  loglik: "log-likelihood, with the 1/t of each exact time",
  quantiles: "times by which 1 %, 10 %, 50 % and 90 % have had the event",
};
const testOutputs = {
  observed: "events seen in each group, groups in order of their labels",
  expected: "events expected in each group if all had one curve",
  chisq: "log-rank chi-square; null where nothing can be compared",
  df: "groups in which events could be seen - 1",
  p: "its p-value",
};

function lowers(limits: readonly (Interval | null)[]) {
  return limits.map((limit) => limit?.lower ?? null);
}

function uppers(limits: readonly (Interval | null)[]) {
  return limits.map((limit) => limit?.upper ?? null);
}

function testResult(test: LogRankTest) {
  return {
    observed: test.observed,
    expected: test.expected,
    chisq: test.statistic,
    df: test.degreesOfFreedom,
    p: test.p,
  };
}

function readGrouped(input: FamilyInput) {
  const observations = readObservations(input);
  const { labels, places } = readLabels(input, "group", observations.length);
  if (labels.length < 2) {
    throw new RangeError(`"group" must hold two or more different labels but holds ${labels.length}`);
  }
  return {
    groups: labels.length,
    observations: observations.map((one, index) => ({ ...one, group: places[index] ?? 0 })),
  };
}

function readCoding(input: FamilyInput): void {
  if (input.coding === undefined || input.coding === coding) return;
  throw new RangeError(`"coding" must be "${coding}" but is ${JSON.stringify(input.coding)}`);
}

function fitResult(fit: LocationScaleFit | null) {
  return {
    mu_log: fit?.location ?? null,
    sigma: fit?.scale ?? null,
    se_mu: fit?.locationError ?? null,
    se_log_sigma: fit?.logScaleError ?? null,
    loglik: fit?.logLikelihood ?? null,
    quantiles: [0.01, 0.1, 0.5, 0.9].map((p) => fit?.timeAt(p) ?? null),
  };
}

/** Times to an event, some of them censored. */
export const survivalFamilies: readonly Family[] = [
  {
    name: "kaplan-meier",
    about: "Kaplan-Meier curve with Greenwood errors, its limits and its quantiles",
    inputs: { ...timeInputs, ...levelInput },
    outputs: {
      time: "times at which events happened",
      n_risk: "number at risk just before each",
      n_event: "events at each",
      surv: "survival after each",
      se_greenwood: "its standard error; null where survival is 0",
      lower_loglog: "its lower limit, log-log; null where survival is 0",
      upper_loglog: "its upper limit",
      quantiles: "times by which 10, 25, 50, 75 and 90 % have had the event; null where not reached",
      median_ci_loglog: "limits of the median, from the log-log limits; null where not reached",
      lower_log: "lower limit on the log scale",
      upper_log: "upper limit, at most 1",
      lower_plain: "lower limit on the plain scale, at least 0",
      upper_plain: "upper limit, at most 1",
    },
    compute(input) {
      const curve = kaplanMeier(readObservations(input));
      const level = readProbability(input, "level");
      const logLog = survivalLimits(curve, level, "log-log");
      const log = survivalLimits(curve, level, "log");
      const plain = survivalLimits(curve, level, "plain");
      const median = survivalQuantileLimits(curve, 0.5, level, "log-log");
      return {
        time: curve.steps.map(({ time }) => time),
        n_risk: curve.steps.map(({ atRisk }) => atRisk),
        n_event: curve.steps.map(({ events }) => events),
        surv: curve.steps.map(({ survival }) => survival),
        se_greenwood: curve.steps.map(({ survival, logError }) =>
          survival === 0 ? null : survival * logError,
        ),
        lower_loglog: lowers(logLog),
        upper_loglog: uppers(logLog),
        quantiles: [0.1, 0.25, 0.5, 0.75, 0.9].map((share) => survivalQuantile(curve, share)),
        median_ci_loglog: [median.lower, median.upper],
        lower_log: lowers(log),
        upper_log: uppers(log),
        lower_plain: lowers(plain),
        upper_plain: uppers(plain),
      };
    },
  },
  {
    name: "kaplan-meier-level",
    about: "Kaplan-Meier log-log limits and median at any level",
    inputs: { ...timeInputs, ...levelInput },
    outputs: {
      time: "times at which events happened",
      lower_loglog: "lower limit of survival after each; null where survival is 0",
      upper_loglog: "upper limit",
      median: "median time; null where not reached",
      median_ci_loglog: "its limits; null where not reached",
    },
    compute(input) {
      const curve = kaplanMeier(readObservations(input));
      const level = readProbability(input, "level");
      const limits = survivalLimits(curve, level, "log-log");
      const median = survivalQuantileLimits(curve, 0.5, level, "log-log");
      return {
        time: curve.steps.map(({ time }) => time),
        lower_loglog: lowers(limits),
        upper_loglog: uppers(limits),
        median: survivalQuantile(curve, 0.5),
        median_ci_loglog: [median.lower, median.upper],
      };
    },
  },
  {
    name: "log-rank",
    about: "Log-rank test that groups have one survival curve",
    inputs: { ...timeInputs, ...groupInput },
    outputs: testOutputs,
    compute(input) {
      const { observations, groups } = readGrouped(input);
      return testResult(logRank(observations, groups));
    },
  },
  {
    name: "log-rank-stratified",
    about: "Log-rank test within strata",
    inputs: { ...timeInputs, ...groupInput, stratum: "stratum of each time: text or numbers" },
    outputs: testOutputs,
    compute(input) {
      const { observations, groups } = readGrouped(input);
      const { places } = readLabels(input, "stratum", observations.length);
      return testResult(
        logRank(
          observations.map((one, index) => ({ ...one, stratum: places[index] ?? 0 })),
          groups,
        ),
      );
    },
  },
  {
    name: "parametric/weibull",
    about: "Weibull times by maximum likelihood, exact and censored on either or both sides",
    inputs: { ...intervalInputs, coding: `how the two are to be read: "${coding}"` },
    outputs: { ...fittedOutputs, shape: "1 / sigma", scale: "e^mu_log" },
    compute(input) {
      readCoding(input);
      const found = fitLocationScale(readIntervals(input), smallestExtremeValue);
      const fit = typeof found === "string" ? null : found;
      return {
        ...fitResult(fit),
        shape: fit === null ? null : 1 / fit.scale,
        scale: fit === null ? null : Math.exp(fit.location),
      };
    },
  },
  {
    name: "parametric/lognormal",
    about: "Lognormal times by maximum likelihood, exact and censored on either or both sides",
    inputs: { ...intervalInputs, coding: `how the two are to be read: "${coding}"` },
    outputs: { ...fittedOutputs, median: "e^mu_log" },
    compute(input) {
      readCoding(input);
      const found = fitLocationScale(readIntervals(input), standardNormal);
      const fit = typeof found === "string" ? null : found;
      return { ...fitResult(fit), median: fit === null ? null : Math.exp(fit.location) };
    },
  },
  {
    name: "parametric-nofit",
    about: "Whether a Weibull or lognormal likelihood has a finite maximum at all",
    inputs: {
      cases: "one or more objects, each with lower and upper as for the fits, and what it is, in words",
    },
    outputs: { estimable: "for each case, whether location and scale can be estimated" },
    compute(input) {
      const cases = readObjects(input, "cases");
      return {
        estimable: cases.map((one, index) => whyNoFit(readIntervals(one, `cases[${index}].`)) === null),
      };
    },
  },
  {
    name: "turnbull",
    about: "Survival curve of largest likelihood for interval-censored times (Turnbull)",
    inputs: intervalInputs,
    outputs: {
      time: "middles of the intervals that may hold probability, exact and right-censored times",
      surv: "survival after each",
    },
    compute(input) {
      const steps = turnbull(readIntervals(input));
      return { time: steps.map(({ time }) => time), surv: steps.map(({ survival }) => survival) };
    },
  },
];
