import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chiSquareQuantile } from "../../../src/core/stats/chi-square-quantile.ts";
import { chiSquareTail } from "../../../src/core/stats/chi-square-tail.ts";
import { eggerRegression } from "../../../src/core/stats/egger-regression.ts";
import { leaveOneOut } from "../../../src/core/stats/leave-one-out.ts";
import { likelihoodVariance } from "../../../src/core/stats/likelihood-variance.ts";
import { logitEffects, poolableLogits } from "../../../src/core/stats/logit-effects.ts";
import { pauleMandel } from "../../../src/core/stats/moment-variance.ts";
import { poolEffects, poolingMethods } from "../../../src/core/stats/pool-effects.ts";
import { poolSubgroups } from "../../../src/core/stats/pool-subgroups.ts";
import { weightedMean } from "../../../src/core/stats/weighted-mean.ts";
import { expectRelative } from "./close-to.ts";

const spread = poolableLogits([
  { k: 1, n: 100 },
  { k: 50, n: 100 },
  { k: 3, n: 120 },
  { k: 90, n: 110 },
  { k: 20, n: 90 },
]);
const effect = fc.record({
  estimate: fc.double({ min: -5, max: 5, noNaN: true }),
  variance: fc.double({ min: 0.01, max: 4, noNaN: true }),
});
const effectList = fc.array(effect, { minLength: 2, maxLength: 12 });

describe("between-study variance", () => {
  it("by likelihood has a score of 0", () => {
    for (const restricted of [false, true]) {
      const tau2 = likelihoodVariance(spread, restricted);
      const { weight, squaredWeight, weightedSquares } = weightedMean(spread, tau2);
      const score = weightedSquares - weight + (restricted ? squaredWeight / weight : 0);
      expect(Math.abs(score)).toBeLessThan(1e-12 * weight);
    }
  });

  it("by Paule and Mandel brings Q to its degrees of freedom, or is 0 where Q is below them", () => {
    fc.assert(
      fc.property(effectList, (effects) => {
        const df = effects.length - 1;
        const tau2 = pauleMandel(effects);
        if (weightedMean(effects, 0).squares <= df) expect(tau2).toBe(0);
        else expectRelative(weightedMean(effects, tau2).squares, df, 1e-9);
      }),
      { numRuns: 50 },
    );
  });

  it("has Q-profile bounds at which Q lies on its chi-square quantiles", () => {
    const bounds = poolEffects(spread, "DL", 0.9).tau2Bounds;
    expectRelative(chiSquareTail(weightedMean(spread, bounds?.lower ?? 0).squares, 4), 0.05, 1e-9);
    expectRelative(chiSquareTail(weightedMean(spread, bounds?.upper ?? 0).squares, 4), 0.95, 1e-9);
  });
});

describe("poolEffects", () => {
  it.each(poolingMethods)("%s does not depend on the order of studies", (method) => {
    fc.assert(
      fc.property(effectList, (effects) => {
        const one = poolEffects(effects, method, 0.95);
        const other = poolEffects([...effects].reverse(), method, 0.95);
        expect(Math.abs(one.estimate - other.estimate)).toBeLessThan(1e-9);
        expect(Math.abs(one.tau2 - other.tau2)).toBeLessThan(1e-8 * (1 + one.tau2));
      }),
      { numRuns: 25 },
    );
  });

  it.each(poolingMethods)("%s moves with the scale on which effects are given", (method) => {
    fc.assert(
      fc.property(effectList, (effects) => {
        const one = poolEffects(effects, method, 0.95);
        const other = poolEffects(
          effects.map(({ estimate, variance }) => ({ estimate: 3 * estimate + 7, variance: 9 * variance })),
          method,
          0.95,
        );
        expect(Math.abs(3 * one.estimate + 7 - other.estimate)).toBeLessThan(1e-8);
        expectRelative(other.standardError, 3 * one.standardError, 1e-8);
        expect(Math.abs(9 * one.tau2 - other.tau2)).toBeLessThan(1e-7 * (1 + other.tau2));
      }),
      { numRuns: 25 },
    );
  });

  it("gives weights that sum to 1 and make up the estimate", () => {
    const pooled = poolEffects(spread, "REML", 0.95);
    expectRelative(
      pooled.weights.reduce((sum, weight) => sum + weight, 0),
      1,
      1e-14,
    );
    expectRelative(
      pooled.weights.reduce((sum, weight, index) => sum + weight * (spread[index]?.estimate ?? 0), 0),
      pooled.estimate,
      1e-13,
    );
  });

  it("says null for what one or two studies cannot tell", () => {
    const one = poolEffects(spread.slice(0, 1), "REML", 0.95);
    expect([one.hartungKnappError, one.qP, one.i2, one.h2, one.tau2Bounds, one.predictionInterval]).toEqual(
      new Array(6).fill(null),
    );
    const two = poolEffects(spread.slice(0, 2), "REML", 0.95);
    expect(two.predictionInterval).toBeNull();
    expect(two.hartungKnappInterval).not.toBeNull();
  });

  it("refuses no studies, a variance of 0 and a level of 1", () => {
    expect(() => poolEffects([], "DL", 0.95)).toThrow("studies must be one or more but there are none");
    expect(() => poolEffects([{ estimate: 1, variance: 0 }], "DL", 0.95)).toThrow(
      "study 1: a finite estimate and a variance above 0 are needed but found 1 and 0",
    );
    expect(() => poolEffects(spread, "DL", 1)).toThrow("level must be above 0 and below 1 but is 1");
  });
});

describe("logitEffects", () => {
  const studies = [
    { k: 0, n: 10 },
    { k: 3, n: 12 },
  ];

  it("adds to the studies it is told to", () => {
    const corrected = (to: "only0" | "if0all" | "all" | "none") =>
      logitEffects(studies, 0.5, to).map((one) => one?.estimate ?? null);
    expect(corrected("only0")).toEqual([Math.log(0.5 / 10.5), Math.log(3 / 9)]);
    expect(corrected("if0all")).toEqual([Math.log(0.5 / 10.5), Math.log(3.5 / 9.5)]);
    expect(corrected("none")).toEqual([null, Math.log(3 / 9)]);
    expect(logitEffects([studies[1] ?? { k: 3, n: 12 }], 0.5, "all")[0]?.estimate).toBe(Math.log(3.5 / 9.5));
  });

  it("refuses what is not k of n, naming the study", () => {
    expect(() => logitEffects([...studies, { k: 4, n: 3 }])).toThrow(
      "study 3, k must be a whole number from 0 to n = 3 but is 4",
    );
    expect(() => logitEffects(studies, -1)).toThrow("add must be a number of 0 or more but is -1");
  });
});

describe("leaveOneOut", () => {
  it("pools the others", () => {
    expect(leaveOneOut(spread, "PM", 0.95)[2]).toEqual(
      poolEffects([...spread.slice(0, 2), ...spread.slice(3)], "PM", 0.95),
    );
    expect(leaveOneOut(spread.slice(0, 1), "PM", 0.95)).toEqual([null]);
  });
});

describe("poolSubgroups", () => {
  it("splits the common-effect Q into that within and that between", () => {
    const groups = [spread.slice(0, 2), spread.slice(2)];
    const { subgroups, q, degreesOfFreedom, p } = poolSubgroups(groups, "EE", 0.95);
    const within = subgroups.reduce((sum, group) => sum + group.q, 0);
    expectRelative(within + q, poolEffects(spread, "EE", 0.95).q, 1e-12);
    expect(degreesOfFreedom).toBe(1);
    expectRelative(p, chiSquareTail(q, 1), 1e-14);
  });

  it("refuses one subgroup and an empty one", () => {
    expect(() => poolSubgroups([spread], "EE", 0.95)).toThrow("subgroups must be two or more but are 1");
    expect(() => poolSubgroups([spread, []], "EE", 0.95)).toThrow("studies must be one or more");
  });
});

describe("eggerRegression", () => {
  it("finds the line of effects that lie near one", () => {
    const near = [0.1, 0.2, 0.3, 0.4, 0.5].map((error, index) => ({
      estimate: 1 + 2 * error + (index % 2 === 0 ? 1e-6 : -1e-6),
      variance: error ** 2,
    }));
    const line = eggerRegression(near);
    expectRelative(line?.bias ?? 0, 2, 1e-4);
    expectRelative(line?.intercept ?? 0, 1, 1e-4);
    expect(line?.p).toBeLessThan(1e-6);
  });

  it("is null with two studies, equal errors, or effects without residual", () => {
    expect(eggerRegression(spread.slice(0, 2))).toBeNull();
    expect(eggerRegression([1, 2, 4].map((estimate) => ({ estimate, variance: 0.5 })))).toBeNull();
    expect(eggerRegression([1, 2, 4].map((variance) => ({ estimate: 3, variance })))).toBeNull();
  });
});

describe("chiSquareQuantile", () => {
  it("puts the tail back", () => {
    for (const df of [1, 2, 7, 199])
      for (const tail of [1e-12, 0.025, 0.5, 0.975, 0.9995])
        expectRelative(chiSquareTail(chiSquareQuantile(tail, df), df), tail, 1e-10);
  });

  it("agrees with Abramowitz and Stegun (1964), table 26.8", () => {
    expectRelative(chiSquareQuantile(0.05, 1), 3.84146, 1e-6);
    expectRelative(chiSquareQuantile(0.995, 10), 2.15585, 1e-5);
    expect(() => chiSquareQuantile(1, 3)).toThrow("tail must be above 0 and below 1 but is 1");
  });
});
