import { expect, it } from "vitest";
import { fitLocationScale, type LocationScaleFit } from "../../src/core/stats/location-scale-fit.ts";
import { smallestExtremeValue, standardNormal } from "../../src/core/stats/standard-distribution.ts";
import { referenceInputs } from "./_reference-inputs.ts";

// NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3: 20 units, 10 failures, watched to 500 h.
it("NIST/SEMATECH e-Handbook 8.4.1.3: Weibull and lognormal fits with censoring", () => {
  const inputs = referenceInputs("parametric-lognormal", "parametric/lognormal/nist_weibull");
  const upper = inputs.upper as (number | null)[];
  const intervals = (inputs.lower as number[]).map((lower, index) => ({
    lower,
    upper: upper[index] ?? Number.POSITIVE_INFINITY,
  }));
  const fitOf = (fit: LocationScaleFit | string) => {
    if (typeof fit === "string") throw new Error(fit);
    return fit;
  };
  const weibull = fitOf(fitLocationScale(intervals, smallestExtremeValue));
  expect(1 / weibull.scale).toBeCloseTo(1.7208, 4);
  // the handbook prints 606.5280; the likelihood's top is at 606.5275580
  expect(Math.exp(weibull.location)).toBeCloseTo(606.527558, 6);
  expect(-weibull.logLikelihood).toBeCloseTo(75.135, 3);
  expect(4 - 2 * weibull.logLikelihood).toBeCloseTo(154.27, 2);
  const lognormal = fitOf(fitLocationScale(intervals, standardNormal));
  expect(4 - 2 * lognormal.logLikelihood).toBeCloseTo(154.39, 2);
});
