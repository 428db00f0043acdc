import { expect, it } from "vitest";
import { poolEffects } from "../../src/core/stats/pool-effects.ts";

// Normand S-L T (1999) Stat Med 18:321-359, Table VII: deaths with lidocaine, from Hine et al. (1989); data from memory.
it("Normand (1999), Table VII: pooled risk difference in percent", () => {
  const trials = [
    [2, 39, 1, 43],
    [4, 44, 4, 44],
    [6, 107, 4, 110],
    [7, 103, 5, 100],
    [7, 110, 3, 106],
    [11, 154, 4, 146],
  ] as const;
  const effects = trials.map(([x1, n1, x2, n2]) => ({
    estimate: 100 * (x1 / n1 - x2 / n2),
    variance: 1e4 * ((x1 * (n1 - x1)) / n1 ** 3 + (x2 * (n2 - x2)) / n2 ** 3),
  }));
  const pooled = poolEffects(effects, "REML", 0.95);
  expect(pooled.estimate).toBeCloseTo(2.9444, 4);
  expect(pooled.interval.lower).toBeCloseTo(0.3831, 4);
  expect(pooled.interval.upper).toBeCloseTo(5.5058, 4);
});
