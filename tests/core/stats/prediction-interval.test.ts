import { describe, expect, it } from "vitest";
import { incompleteBeta } from "../../../src/core/stats/incomplete-beta.ts";
import { poolableLogits } from "../../../src/core/stats/logit-effects.ts";
import { poolEffects } from "../../../src/core/stats/pool-effects.ts";
import { betaSpread, predictionInterval } from "../../../src/core/stats/prediction-interval.ts";
import { subgroupDifference } from "../../../src/core/stats/subgroup-difference.ts";

const studies = [
  { k: 30, n: 120 },
  { k: 9, n: 60 },
  { k: 2, n: 33 },
  { k: 41, n: 200 },
];

describe("predictionInterval", () => {
  it("is that of the pooled logits, which are checked against reference values", () => {
    const pooled = poolEffects(poolableLogits(studies), "DL", 0.9);
    expect(
      predictionInterval(
        { mean: pooled.estimate, standardError: pooled.standardError, tau2: pooled.tau2, studies: 4 },
        0.9,
      ),
    ).toEqual(pooled.predictionInterval);
  });

  it("is none with two studies, and refuses what cannot be", () => {
    const fit = { mean: 0, standardError: 1, tau2: 0, studies: 2 };
    expect(predictionInterval(fit, 0.95)).toBeNull();
    expect(() => predictionInterval(fit, 1)).toThrow("level");
    expect(() => predictionInterval({ ...fit, studies: 0 }, 0.95)).toThrow("number of studies");
  });
});

describe("betaSpread", () => {
  it("leaves half of what is outside the level beyond each end", () => {
    const [mean, correlation] = [0.2, 0.1];
    const spread = betaSpread(mean, correlation, 0.9);
    const [a, b] = [mean * 9, (1 - mean) * 9];
    const below = (x: number) => incompleteBeta(x, 1 - x, a, b).lower;
    expect(below(spread?.lower ?? 0)).toBeCloseTo(0.05, 12);
    expect(below(spread?.upper ?? 0)).toBeCloseTo(0.95, 12);
  });

  it("is none where rates do not vary, or vary between 0 and 1 only", () => {
    expect(betaSpread(0.2, 0, 0.9)).toBeNull();
    expect(betaSpread(0.2, 1, 0.9)).toBeNull();
    expect(betaSpread(0, 0.1, 0.9)).toBeNull();
  });
});

describe("subgroupDifference", () => {
  it("of two groups is the square of the difference over its error", () => {
    const test = subgroupDifference([
      { estimate: 1, variance: 0.5 },
      { estimate: -1, variance: 1.5 },
    ]);
    expect(test?.q).toBeCloseTo(4 / 2, 12);
    expect(test?.degreesOfFreedom).toBe(1);
    // Chi-square with one degree of freedom beyond 2: 0.157299 (Abramowitz & Stegun 1964, table 26.7, erfc(1)).
    expect(test?.p).toBeCloseTo(0.15729920705028513, 12);
  });

  it("is none for one group", () => {
    expect(subgroupDifference([{ estimate: 1, variance: 1 }])).toBeNull();
    expect(() => subgroupDifference([{ estimate: 1, variance: 0 }])).toThrow("study 1");
  });
});
