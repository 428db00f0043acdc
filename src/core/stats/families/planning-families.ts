import { cPlan } from "../c-plan.ts";
import type { Family } from "../family.ts";
import { readCounts, readProbability, readWhole, readWholes } from "../family-input.ts";
import { badInLot, fewestBadInLot, mostBadInLot } from "../finite-lot.ts";
import { finiteLotSampleSize } from "../finite-lot-sample-size.ts";
import { halfWidthSampleSize } from "../half-width-sample-size.ts";
import { successRun, successRunReliability } from "../success-run.ts";
import { twoPointPlan } from "../two-point-plan.ts";

const confidenceInput = { confidence: "confidence C: above 0 and below 1" };
const reliabilityInput = { reliability: "reliability R to demonstrate: above 0 and below 1" };

/** How many to test, and what a finite lot allows to be said. */
export const planningFamilies: readonly Family[] = [
  {
    name: "success-run",
    about: "Zero-failure demonstration: smallest n with R^n <= 1 - C, ties decided exactly",
    inputs: { ...confidenceInput, ...reliabilityInput },
    outputs: { n: "number that must all pass", real_solution: "ln(1 - C) / ln R" },
    compute(input) {
      const run = successRun(readProbability(input, "confidence"), readProbability(input, "reliability"));
      return { n: run.n, real_solution: run.realSolution };
    },
  },
  {
    name: "success-run-reliability",
    about: "Reliability that n passes without a failure demonstrate: (1 - C)^(1/n)",
    inputs: { ...confidenceInput, n: "number tested: a whole number of 1 or more" },
    outputs: { reliability: "demonstrated reliability", failure_rate_upper: "1 - reliability" },
    compute(input) {
      const shown = successRunReliability(readProbability(input, "confidence"), readWhole(input, "n", 1));
      return { reliability: shown.reliability, failure_rate_upper: shown.failureRateUpper };
    },
  },
  {
    name: "c-plan",
    about: "Demonstration that allows c failures: smallest n with P(X <= c | n, 1 - R) <= 1 - C",
    inputs: {
      ...confidenceInput,
      ...reliabilityInput,
      c: "failures allowed: a whole number of 0 or more, or a list of them",
    },
    outputs: {
      n: "number to test, one for each c",
      p_accept_at_n: "chance that a lot of exactly that reliability passes, one for each c",
    },
    compute(input) {
      const confidence = readProbability(input, "confidence");
      const reliability = readProbability(input, "reliability");
      const several = Array.isArray(input.c);
      const allowed = several ? readWholes(input, "c") : [readWhole(input, "c")];
      const plans = allowed.map((c) => cPlan(confidence, reliability, c));
      const n = plans.map((plan) => plan.n);
      const accept = plans.map((plan) => plan.acceptProbability);
      return several ? { n, p_accept_at_n: accept } : { n: n[0], p_accept_at_n: accept[0] };
    },
  },
  {
    name: "two-point-plan",
    about: "Smallest acceptance plan (n, c) with P(accept | p1) >= 1 - alpha and P(accept | p2) <= beta",
    inputs: {
      p1: "failure rate of a good lot: above 0 and below p2",
      alpha: "risk of refusing it: above 0 and below 1",
      p2: "failure rate of a bad lot: above 0 and below 1",
      beta: "risk of accepting it: above 0 and below 1",
    },
    outputs: {
      n: "number to test",
      c: "failures allowed",
      p_accept_p1: "chance of accepting a good lot",
      p_accept_p2: "chance of accepting a bad lot",
    },
    compute(input) {
      const [p1, alpha] = [readProbability(input, "p1"), readProbability(input, "alpha")];
      const [p2, beta] = [readProbability(input, "p2"), readProbability(input, "beta")];
      if (p1 >= p2) throw new RangeError(`"p1" must be below "p2" = ${p2} but is ${p1}`);
      const plan = twoPointPlan(p1, alpha, p2, beta);
      return { n: plan.n, c: plan.c, p_accept_p1: plan.acceptAtP1, p_accept_p2: plan.acceptAtP2 };
    },
  },
  {
    name: "halfwidth",
    about: "Sample size for a wanted half-width of a two-sided interval",
    inputs: {
      p: "assumed proportion: above 0 and below 1",
      half_width: "wanted half-width: above 0 and below 1",
      level: "two-sided confidence level: above 0 and below 1",
    },
    outputs: {
      wilson_n: "smallest n for Wilson's interval, with n p as the count",
      wilson_half_width_at_n: "half-width of Wilson's interval at that n",
      cp_persistent_n_rounded_k:
        "n from which the exact interval about round(n p) fits for every larger n too",
    },
    compute(input) {
      const size = halfWidthSampleSize(
        readProbability(input, "p"),
        readProbability(input, "half_width"),
        readProbability(input, "level"),
      );
      return {
        wilson_n: size.wilson,
        wilson_half_width_at_n: size.wilsonHalfWidth,
        cp_persistent_n_rounded_k: size.clopperPearsonPersistent,
      };
    },
  },
  {
    name: "hypergeometric",
    about:
      "Exact bounds on the number M bad in a finite lot; an M is kept if its tail probability is above alpha",
    inputs: {
      N: "items in the lot: a whole number of 1 or more",
      n: "items tested: a whole number from 1 to N",
      k: "items found bad: a whole number from 0 to n",
    },
    outputs: {
      upper_one_sided_95_M: "one-sided 95 % upper bound on M",
      upper_one_sided_95_p: "the same as a share of N",
      lower_one_sided_95_M: "one-sided 95 % lower bound on M",
      two_sided_95_M: "two-sided 95 % bounds on M",
      two_sided_95_p: "the same as shares of N",
    },
    compute(input) {
      const size = readWhole(input, "N", 1);
      const { k, n } = readCounts(input);
      if (n > size) throw new RangeError(`"n" must be a whole number from 1 to N = ${size} but is ${n}`);
      const upper = mostBadInLot(size, n, k, 0.05);
      const both = badInLot(size, n, k, 0.95);
      return {
        upper_one_sided_95_M: upper,
        upper_one_sided_95_p: upper / size,
        lower_one_sided_95_M: fewestBadInLot(size, n, k, 0.05),
        two_sided_95_M: [both.lower, both.upper],
        two_sided_95_p: [both.lower / size, both.upper / size],
      };
    },
  },
  {
    name: "hypergeometric-n",
    about: "Zero-failure sample size from a finite lot: smallest n with P(X = 0 | N, D, n) <= 1 - C",
    inputs: {
      N: "items in the lot: a whole number of 1 or more",
      D: "number of bad items to rule out: a whole number from 1 to N",
      ...confidenceInput,
    },
    outputs: { n: "number to test", p0_at_n: "chance that all pass although D are bad" },
    compute(input) {
      const size = readWhole(input, "N", 1);
      const bad = readWhole(input, "D", 1);
      if (bad > size) throw new RangeError(`"D" must be a whole number from 1 to N = ${size} but is ${bad}`);
      const sample = finiteLotSampleSize(size, bad, readProbability(input, "confidence"));
      return { n: sample.n, p0_at_n: sample.passProbability };
    },
  },
];
