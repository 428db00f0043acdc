import { describe, expect, it } from "vitest";
import { kaplanMeier } from "../../src/core/stats/kaplan-meier.ts";
import { logRank } from "../../src/core/stats/log-rank.ts";
import { survivalQuantile } from "../../src/core/stats/survival-quantile.ts";
import { referenceInputs } from "./_reference-inputs.ts";

// Freireich E J et al. (1963) Blood 21:699-716, weeks of remission; results as in Cox & Oakes (1984), from memory.
const inputs = referenceInputs("log-rank", "log-rank/freireich");
const status = inputs.status as number[];
const groups = inputs.group as string[];
const all = (inputs.time as number[]).map((time, index) => ({
  time,
  event: status[index] === 1,
  group: groups[index] === "6MP" ? 0 : 1,
}));

describe("remission of Freireich et al. (1963)", () => {
  it("Kaplan-Meier with Greenwood errors, treated group", () => {
    const curve = kaplanMeier(all.filter(({ group }) => group === 0));
    const printed = [
      [6, 0.857, 0.0764],
      [7, 0.807, 0.0869],
      [10, 0.753, 0.0963],
      [13, 0.69, 0.1068],
      [16, 0.627, 0.1141],
      [22, 0.538, 0.1282],
      [23, 0.448, 0.1346],
    ] as const;
    for (const [index, [time, survival, error]] of printed.entries()) {
      const step = curve.steps[index];
      expect(step?.time).toBe(time);
      expect(step?.survival).toBeCloseTo(survival, 3);
      expect((step?.survival ?? 0) * (step?.logError ?? 0)).toBeCloseTo(error, 4);
    }
    expect(survivalQuantile(curve, 0.5)).toBe(23);
  });

  it("log-rank test", () => {
    const test = logRank(all, 2);
    expect(test.statistic).toBeCloseTo(16.79294, 5);
    expect(test.expected[0]).toBeCloseTo(19.25, 2);
  });
});
