import { describe, expect, it } from "vitest";
import {
  type Contribution,
  divisors,
  uncertaintyBudget,
} from "../../../src/core/signal/uncertainty-budget.ts";

const line = (
  contribution: string,
  value: number,
  distribution: Contribution["distribution"],
  changes: Partial<Contribution> = {},
): Contribution => ({
  contribution,
  value,
  unit: "1",
  distribution,
  divisor: distribution === "normal" ? 1 : divisors[distribution],
  sensitivity: 1,
  degreesOfFreedom: null,
  ...changes,
});

describe("EA-4/02", () => {
  it("S2, a 10 kg weight in milligrams: u 29.3, U 59 (input budget as published, results from memory)", () => {
    const found = uncertaintyBudget(
      [
        line("standard", 45, "normal", { divisor: 2 }),
        line("drift of the standard", 15, "rectangular"),
        line("difference, pooled spread of three weighings", 25, "normal", { divisor: Math.sqrt(3) }),
        line("eccentricity and magnetism", 10, "rectangular"),
        line("air buoyancy", 10, "rectangular"),
      ],
      "milligrams",
    );
    const parts = found.budget.map((one) => one.seconds);
    for (const [i, part] of [22.5, 8.66025, 14.43376, 5.7735, 5.7735].entries()) {
      expect(parts[i]).toBeCloseTo(part, 5);
    }
    expect(found.standard).toBeCloseTo(29.2617, 4);
    expect(found.expanded).toBeCloseTo(58.52, 2);
    expect(found.k).toBe(2);
    expect(found.effectiveDegreesOfFreedom).toBeNull();
  });

  it("S3, a 10 kohm resistor in milliohms: u 8.33, U 17 (some limits from memory)", () => {
    // R_X = (R_S + drift + temperature) r_C r - temperature of the unknown, with R_S + drift = 10000.073 ohm, r = 1.0000105.
    const ratio = 1.0000105;
    const perRatio = 10_000_073;
    const found = uncertaintyBudget(
      [
        line("standard", 5, "normal", { divisor: 2, sensitivity: ratio }),
        line("drift of the standard", 10, "rectangular", { sensitivity: ratio }),
        line("temperature of the standard", 2.75, "rectangular", { sensitivity: ratio }),
        line("temperature of the unknown", 5.5, "rectangular"),
        line("parasitic voltages", 1e-6, "triangular", { sensitivity: perRatio * ratio }),
        line("ratio, five readings", 0.158114e-6, "normal", {
          divisor: Math.sqrt(5),
          sensitivity: perRatio,
          degreesOfFreedom: 4,
        }),
      ],
      "milliohms",
    );
    expect(found.standard).toBeCloseTo(8.328004, 4);
    expect(found.expanded).toBeCloseTo(16.656, 2);
  });
});

describe("a trip at three times the pick-up after 24.0 s (arithmetic beside the GUM's rules)", () => {
  // Slope of one thermal time constant at x = 3 is -2.1225.
  const perPercent = (2.1225 * 24) / 100;
  const found = uncertaintyBudget(
    [
      line("certificate", 1, "normal", { divisor: 2, sensitivity: perPercent }),
      line("drift", 0.5, "rectangular", { sensitivity: perPercent }),
      line("regulation", 0.3, "rectangular", { sensitivity: perPercent }),
      line("timer step", 0.0005, "rectangular"),
      line("detection", 0.00833, "rectangular"),
    ],
    "one thermal time constant",
  );

  it("has u 0.307096 s and U 0.614193 s", () => {
    expect(found.standard).toBeCloseTo(0.307096, 4);
    expect(found.expanded).toBeCloseTo(0.614193, 4);
    const current = Math.hypot(...found.budget.slice(0, 3).map((one) => one.seconds));
    expect(current).toBeCloseTo(0.307059, 4);
    expect(found.budget[3]?.seconds).toBeCloseTo(0.000289, 6);
    expect(found.budget[4]?.seconds).toBeCloseTo(0.004809, 6);
  });

  it("shows that current, not the clock, dominates", () => {
    expect(found.budget.slice(0, 3).reduce((sum, one) => sum + one.share, 0)).toBeGreaterThan(0.999);
    expect(found.budget.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 10);
  });
});

describe("a budget", () => {
  it("takes k from the t distribution at 95.45 % where degrees of freedom are few", () => {
    const found = uncertaintyBudget([line("repeatability", 1, "normal", { degreesOfFreedom: 5 })], "none");
    expect(found.k).toBeCloseTo(2.65, 2);
    expect(found.effectiveDegreesOfFreedom).toBe(5);
    expect(found.expanded).toBeCloseTo(found.k * found.standard, 10);
  });

  it("without any uncertainty has none, and no share", () => {
    const found = uncertaintyBudget([line("nothing", 0, "normal")], "none");
    expect(found).toMatchObject({ standard: 0, expanded: 0, k: 2 });
    expect(found.budget[0]?.share).toBe(0);
  });

  it("takes a sensitivity of either sign", () => {
    expect(uncertaintyBudget([line("a", 2, "normal", { sensitivity: -3 })], "none").standard).toBe(6);
  });

  it("refuses what is no contribution, naming it", () => {
    expect(() => uncertaintyBudget([], "none")).toThrow("found none");
    expect(() => uncertaintyBudget([line("timer", -1, "normal")], "none")).toThrow("timer");
    expect(() => uncertaintyBudget([line("timer", 1, "normal", { divisor: 0 })], "none")).toThrow("divisor");
    expect(() => uncertaintyBudget([line("timer", Number.NaN, "normal")], "none")).toThrow("NaN");
  });
});
