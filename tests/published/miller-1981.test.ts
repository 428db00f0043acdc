import { describe, expect, it } from "vitest";
import { kaplanMeier } from "../../src/core/stats/kaplan-meier.ts";
import { logRank } from "../../src/core/stats/log-rank.ts";
import { survivalLimits } from "../../src/core/stats/survival-limits.ts";
import { survivalQuantile } from "../../src/core/stats/survival-quantile.ts";

// Miller R G (1981) Survival Analysis, p. 49: weeks of remission in acute myelogenous leukaemia; negative is censored.
// Printed values from the test output of the survival package for R.
const maintained = [9, 13, -13, 18, 23, -28, 31, 34, -45, 48, -161];
const others = [5, 5, 8, 8, 12, -16, 23, 27, 30, 33, 43, 45];
const observed = (times: readonly number[], group: number) =>
  times.map((time) => ({ time: Math.abs(time), event: time > 0, group }));

describe("remission of Miller (1981)", () => {
  it("Kaplan-Meier with log limits, maintained group", () => {
    const curve = kaplanMeier(observed(maintained, 0));
    const limits = survivalLimits(curve, 0.95, "log");
    const printed = [
      [9, 0.909, 0.0867, 0.7541],
      [13, 0.818, 0.1163, 0.6192],
      [18, 0.716, 0.1397, 0.4884],
      [23, 0.614, 0.1526, 0.3769],
      [31, 0.491, 0.1642, 0.2549],
      [34, 0.368, 0.1627, 0.1549],
      [48, 0.184, 0.1535, 0.0359],
    ] as const;
    for (const [index, [time, survival, error, lower]] of printed.entries()) {
      const step = curve.steps[index];
      expect(step?.time).toBe(time);
      expect(step?.survival).toBeCloseTo(survival, 3);
      expect((step?.survival ?? 0) * (step?.logError ?? 0)).toBeCloseTo(error, 4);
      expect(limits[index]?.lower).toBeCloseTo(lower, 4);
    }
  });

  it("medians and log-rank test", () => {
    expect(survivalQuantile(kaplanMeier(observed(maintained, 0)), 0.5)).toBe(31);
    expect(survivalQuantile(kaplanMeier(observed(others, 1)), 0.5)).toBe(23);
    const test = logRank([...observed(maintained, 0), ...observed(others, 1)], 2);
    expect(test.statistic).toBeCloseTo(3.4, 1);
    expect(test.expected[0]).toBeCloseTo(10.69, 2);
  });
});
