import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { betaBinomial } from "../../../src/core/stats/beta-binomial.ts";
import { binomialNormal } from "../../../src/core/stats/binomial-normal.ts";
import { binomialNormalLikelihood } from "../../../src/core/stats/binomial-normal-likelihood.ts";
import { logBinomialProbability } from "../../../src/core/stats/binomial-probability.ts";
import { gaussRule } from "../../../src/core/stats/gauss-rule.ts";
import { integrate } from "../../../src/core/stats/integrate.ts";
import { inverseLogit } from "../../../src/core/stats/logistic.ts";
import type { Study } from "../../../src/core/stats/study.ts";
import { summationRule } from "../../../src/core/stats/summation-rule.ts";
import { expectRelative } from "./close-to.ts";

const spread: Study[] = [
  { k: 1, n: 100 },
  { k: 50, n: 100 },
  { k: 3, n: 120 },
  { k: 90, n: 110 },
  { k: 20, n: 90 },
];
const lopsided: Study[] = [
  { k: 0, n: 30 },
  { k: 0, n: 30 },
  { k: 0, n: 30 },
  { k: 30, n: 31 },
];

/** Log-likelihood of the binomial-normal model by an integration rule of another kind. */
function directLogLikelihood(studies: readonly Study[], mu: number, tau: number): number {
  return studies.reduce((sum, { k, n }) => {
    const probability = integrate(
      (z) => {
        const p = inverseLogit(mu + tau * z);
        const q = inverseLogit(-mu - tau * z);
        return Math.exp(logBinomialProbability(k, n - k, p, q) - (z * z) / 2) / Math.sqrt(2 * Math.PI);
      },
      -14,
      14,
    );
    return sum + Math.log(probability);
  }, 0);
}

describe("binomialNormal", () => {
  it.each([
    ["spread", spread],
    ["lopsided", lopsided],
  ])("has the likelihood that another quadrature gives, and its top: %s", (_name, studies) => {
    const fit = binomialNormal(studies, 0.95);
    const { mu = 0, tau = 0, logLikelihood = 0 } = fit ?? {};
    expectRelative(directLogLikelihood(studies, mu, tau), logLikelihood, 1e-8);
    for (const [aside, along] of [
      [0.05, 0],
      [-0.05, 0],
      [0, 0.05],
      [0, -0.05],
    ] as const) {
      expect(directLogLikelihood(studies, mu + aside, tau + along)).toBeLessThan(logLikelihood);
    }
  });

  it("has a gradient and second derivatives that are those of its likelihood", () => {
    const evaluate = binomialNormalLikelihood(spread, 400);
    const [mu, tau, h] = [-1.2, 1.7, 1e-4];
    const here = evaluate([mu, tau]);
    const byMu = (evaluate([mu + h, tau]).value - evaluate([mu - h, tau]).value) / (2 * h);
    const byTau = (evaluate([mu, tau + h]).value - evaluate([mu, tau - h]).value) / (2 * h);
    expectRelative(here.gradient[0] ?? 0, byMu, 1e-6);
    expectRelative(here.gradient[1] ?? 0, byTau, 1e-6);
    const up = evaluate([mu, tau + h]).gradient;
    const down = evaluate([mu, tau - h]).gradient;
    expectRelative(here.hessian[1]?.[1] ?? 0, ((up[1] ?? 0) - (down[1] ?? 0)) / (2 * h), 1e-6);
    expectRelative(here.hessian[0]?.[1] ?? 0, ((up[0] ?? 0) - (down[0] ?? 0)) / (2 * h), 1e-6);
  });

  it("turns about when failures and passes change places, and does not mind the order", () => {
    const fit = binomialNormal(spread, 0.95);
    const turned = binomialNormal(spread.map(({ k, n }) => ({ k: n - k, n })).reverse(), 0.95);
    expectRelative(-(turned?.mu ?? 0), fit?.mu ?? 0, 1e-8);
    expectRelative(turned?.tau2 ?? 0, fit?.tau2 ?? 0, 1e-8);
  });

  it("says the boundary where studies differ no more than chance, or hold no failure or only failures", () => {
    for (const studies of [
      [{ k: 4, n: 40 }],
      [5, 10, 15].map((k) => ({ k, n: 20 * k })),
      [0, 1, 1].map((k) => ({ k, n: 1 })),
    ]) {
      const fit = binomialNormal(studies, 0.95);
      const k = studies.reduce((sum, one) => sum + one.k, 0);
      const n = studies.reduce((sum, one) => sum + one.n, 0);
      expect([fit?.boundary, fit?.tau2, fit?.likelihoodRatio]).toEqual([true, 0, 0]);
      expectRelative(fit?.median ?? 0, k / n, 1e-14);
      expectRelative(fit?.standardError ?? 0, Math.sqrt(1 / k + 1 / (n - k)), 1e-14);
    }
    const none = binomialNormal(
      [10, 20].map((n) => ({ k: 0, n })),
      0.95,
    );
    expect(none).toMatchObject({
      mu: Number.NEGATIVE_INFINITY,
      standardError: null,
      boundary: true,
      median: 0,
    });
    const all = binomialNormal(
      [10, 20].map((n) => ({ k: n, n })),
      0.95,
    );
    expect(all).toMatchObject({
      mu: Number.POSITIVE_INFINITY,
      boundary: true,
      median: 1,
      medianInterval: null,
    });
  });

  it("has no fit where each study is all failures or all passes", () => {
    expect(
      binomialNormal(
        [
          { k: 0, n: 20 },
          { k: 20, n: 20 },
        ],
        0.95,
      ),
    ).toBeNull();
  });

  it("refuses bad counts and levels", () => {
    expect(() => binomialNormal([{ k: 5, n: 4 }], 0.95)).toThrow("study 1, k must be");
    expect(() => binomialNormal(spread, 0)).toThrow("level must be above 0 and below 1 but is 0");
  });
});

describe("betaBinomial", () => {
  /** Σ ln of the beta-binomial probabilities, straight from their products. */
  function direct(studies: readonly Study[], mean: number, correlation: number): number {
    const theta = correlation / (1 - correlation);
    let sum = 0;
    for (const { k, n } of studies) {
      for (let j = 0; j < k; j += 1) sum += Math.log((mean + j * theta) * ((n - j) / (k - j)));
      for (let j = 0; j < n - k; j += 1) sum += Math.log(1 - mean + j * theta);
      for (let j = 0; j < n; j += 1) sum -= Math.log(1 + j * theta);
    }
    return sum;
  }

  it("has the likelihood of the model, and its top", () => {
    const large = spread.map(({ k, n }) => ({ k: 40 * k, n: 40 * n }));
    for (const studies of [spread, lopsided, large]) {
      const fit = betaBinomial(studies, 0.95);
      expectRelative(direct(studies, fit.mean, fit.correlation), fit.logLikelihood, 1e-10);
      for (const factor of [0.99, 1.01]) {
        expect(direct(studies, fit.mean * factor, fit.correlation)).toBeLessThan(fit.logLikelihood);
        expect(direct(studies, fit.mean, fit.correlation * factor)).toBeLessThan(fit.logLikelihood);
      }
    }
  });

  it("says the boundary: 0 where studies differ too little, 1 where each is all or none", () => {
    expect(
      betaBinomial(
        [5, 10].map((k) => ({ k, n: 20 * k })),
        0.95,
      ),
    ).toMatchObject({
      mean: 0.05,
      correlation: 0,
      boundary: true,
    });
    expect(betaBinomial([{ k: 0, n: 9 }], 0.95)).toMatchObject({
      mean: 0,
      boundary: true,
      meanInterval: null,
    });
    expect(
      betaBinomial(
        [
          { k: 0, n: 9 },
          { k: 4, n: 4 },
        ],
        0.95,
      ),
    ).toMatchObject({
      mean: 0.5,
      correlation: 1,
      boundary: true,
    });
  });

  it("refuses bad counts", () => {
    expect(() => betaBinomial([], 0.95)).toThrow("studies must be one or more but there are none");
  });
});

describe("gaussRule", () => {
  /** Of the measure e^(-x²), whose polynomials are Hermite's. */
  const hermite = (n: number) =>
    gaussRule(
      Array.from({ length: n - 1 }, (_, index) => (index + 1) / 2),
      Math.sqrt(Math.PI),
    );

  it("integrates even powers exactly", () => {
    for (const n of [1, 7, 20, 60]) {
      const { nodes, weights } = hermite(n);
      const moment = (power: number) =>
        nodes.reduce((sum, x, index) => sum + (weights[index] ?? 0) * x ** power, 0);
      expectRelative(moment(0), Math.sqrt(Math.PI), 1e-13);
      if (n > 1) expectRelative(moment(2), Math.sqrt(Math.PI) / 2, 1e-13);
      if (n > 2) expectRelative(moment(4), 0.75 * Math.sqrt(Math.PI), 1e-13);
    }
  });

  it("agrees with Abramowitz and Stegun (1964), table 25.10, n = 5", () => {
    const { nodes, weights } = hermite(5);
    expectRelative(nodes[4] ?? 0, 2.02018287045609, 1e-14);
    expectRelative(nodes[3] ?? 0, 0.958572464613819, 1e-14);
    expectRelative(weights[2] ?? 0, 0.945308720483, 1e-12);
  });
});

describe("summationRule", () => {
  it("sums like the long sum", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 20000 }),
        fc.double({ min: 1e-6, max: 50, noNaN: true }),
        (count, a) => {
          const { nodes, weights } = summationRule(count);
          for (const f of [
            (j: number) => Math.log(a + j),
            (j: number) => 1 / (a + j),
            (j: number) => (j / (a + j)) ** 2,
          ]) {
            let long = 0;
            for (let j = count - 1; j >= 0; j -= 1) long += f(j);
            const short = nodes.reduce((sum, x, index) => sum + (weights[index] ?? 0) * f(x), 0);
            expect(Math.abs(short - long)).toBeLessThanOrEqual(1e-11 * (1 + Math.abs(long)));
          }
        },
      ),
      { numRuns: 20 },
    );
    expect(summationRule(1_000_000).nodes.length).toBeLessThan(250);
    expect(() => summationRule(1.5)).toThrow("count must be a whole number of 0 or more but is 1.5");
  });
});
