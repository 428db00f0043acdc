import { describe, expect, it } from "vitest";
import { cPlan } from "../../src/core/stats/c-plan.ts";
import { successRun } from "../../src/core/stats/success-run.ts";
import { twoPointPlan } from "../../src/core/stats/two-point-plan.ts";

// Sample sizes as in the standard tables of reliability demonstration and acceptance sampling (NIST/SEMATECH e-Handbook, MIL-HDBK-H108)

describe("demonstration tables, values from memory", () => {
  it.each([
    [0.95, 0.95, 59],
    [0.9, 0.9, 22],
    [0.95, 0.9, 29],
    [0.9, 0.95, 45],
    [0.95, 0.99, 299],
    [0.99, 0.99, 459],
  ])("no failure, confidence %d, reliability %d: %d", (confidence, reliability, n) => {
    expect(successRun(confidence, reliability).n).toBe(n);
  });

  it.each([
    [0, 59],
    [1, 93],
    [2, 124],
    [3, 153],
    [4, 181],
    [5, 208],
  ])("95/95 with %d failures allowed: %d", (c, n) => {
    expect(cPlan(0.95, 0.95, c).n).toBe(n);
  });

  it("accept 1 % with 95 %, 5 % with 10 %: 132 with 3 allowed", () => {
    expect(twoPointPlan(0.01, 0.05, 0.05, 0.1)).toMatchObject({ n: 132, c: 3 });
  });
});
