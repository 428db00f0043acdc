import { describe, expect, it } from "vitest";
import { poolEffects } from "../../src/core/stats/pool-effects.ts";

// Colditz G A et al. (1994) JAMA 271:698-702: thirteen trials of a vaccine; cases and others, treated and control (data from
// memory; that every printed result comes out speaks for them).
const trials = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
] as const;

const effects = trials.map(([a, b, c, d]) => ({
  estimate: Math.log(a / (a + b) / (c / (c + d))),
  variance: 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d),
}));

describe("log risk ratios of Colditz et al. (1994)", () => {
  it("common effect and DerSimonian-Laird (metan manual, Stata)", () => {
    const common = poolEffects(effects, "EE", 0.95);
    expect(common.estimate).toBeCloseTo(-0.4303, 4);
    expect(common.q).toBeCloseTo(152.233, 3);
    const random = poolEffects(effects, "DL", 0.95);
    expect(random.estimate).toBeCloseTo(-0.7141, 4);
    expect(random.tau2).toBeCloseTo(0.3088, 4);
    expect(random.i2).toBeCloseTo(92.1173, 3);
    expect(poolEffects(effects, "PM", 0.95).tau2).toBeCloseTo(0.3181, 4);
  });

  it("REML and Q-profile bounds (Viechtbauer 2010, J Stat Softw 36:3, from memory)", () => {
    const pooled = poolEffects(effects, "REML", 0.95);
    expect(pooled.estimate).toBeCloseTo(-0.7145, 4);
    expect(pooled.tau2).toBeCloseTo(0.3132, 4);
    expect(pooled.tau2Bounds?.lower).toBeCloseTo(0.1197, 4);
    expect(pooled.tau2Bounds?.upper).toBeCloseTo(1.1115, 4);
  });
});
