import { describe, expect, it } from "vitest";
import {
  freemanTukeyEffects,
  harmonicMeanSize,
  inverseDoubleArcsine,
} from "../../src/core/stats/freeman-tukey.ts";
import { poolEffects } from "../../src/core/stats/pool-effects.ts";

// Miller J J (1978) The inverse of the Freeman-Tukey double arcsine transformation, Am Stat 32:138; he takes the sum of
// the two arcsines.
const studies = [
  { k: 3, n: 11 },
  { k: 6, n: 17 },
  { k: 10, n: 21 },
  { k: 1, n: 6 },
];

describe("Miller (1978)", () => {
  const effects = freemanTukeyEffects(studies);
  const pooled = poolEffects(effects, "EE", 0.95);

  it("double arcsines and their weighted mean", () => {
    for (const [index, printed] of [1.1391, 1.2888, 1.5253, 0.9515].entries()) {
      expect(2 * (effects[index]?.estimate ?? 0)).toBeCloseTo(printed, 4);
    }
    expect(2 * pooled.estimate).toBeCloseTo(1.3093, 4);
  });

  it("weighted mean transformed back with the harmonic mean of n", () => {
    expect(inverseDoubleArcsine(pooled.estimate, harmonicMeanSize(studies))).toBeCloseTo(0.3595, 4);
  });

  it("the inverse gives back each study's rate", () => {
    for (const [index, { k, n }] of studies.entries()) {
      expect(inverseDoubleArcsine(effects[index]?.estimate ?? 0, n)).toBeCloseTo(k / n, 12);
    }
    expect(inverseDoubleArcsine(0, 20)).toBe(0);
    expect(inverseDoubleArcsine(Math.PI / 2, 20)).toBe(1);
  });
});
