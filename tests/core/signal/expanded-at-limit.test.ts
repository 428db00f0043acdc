import { describe, expect, it } from "vitest";
import { expandedAtLimit } from "../../../src/core/signal/expanded-at-limit.ts";
import { firstOrderThermal } from "../../../src/core/signal/sensitivity.ts";

const basis = { currentPercent: 1, currentK: 2, timerSeconds: 0.001 };

describe("expandedAtLimit", () => {
  it("is U of the current through the slope, where that dominates", () => {
    // Slope of t = tau ln(x^2 / (x^2 - 1)) at x = 2 / 1.15: -2 / ((x^2 - 1) ln(x^2 / (x^2 - 1))).
    const squared = (2 / 1.15) ** 2;
    const slope = 2 / ((squared - 1) * Math.log(squared / (squared - 1)));
    expect(expandedAtLimit(120, 2, basis, firstOrderThermal(1.15), 60)).toBeCloseTo(0.01 * slope * 120, 1);
  });

  it("is null where the model says nothing, and refuses what is not a limit", () => {
    expect(expandedAtLimit(120, 1.1, basis, firstOrderThermal(1.15), 60)).toBeNull();
    expect(() => expandedAtLimit(0, 2, basis, firstOrderThermal(1.15), 60)).toThrow("limitSeconds");
    expect(() => expandedAtLimit(120, 2, basis, firstOrderThermal(1.15), Number.NaN)).toThrow("lineHz");
  });
});
