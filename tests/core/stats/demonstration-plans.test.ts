import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { binomialAtMost } from "../../../src/core/stats/binomial-tail.ts";
import { cPlan } from "../../../src/core/stats/c-plan.ts";
import { successRun, successRunReliability } from "../../../src/core/stats/success-run.ts";
import { twoPointPlan } from "../../../src/core/stats/two-point-plan.ts";
import { expectRelative } from "./close-to.ts";

const hundredths = fc.integer({ min: 1, max: 99 });

/** The smallest n with R^n <= 1 - C, both given in hundredths, by whole-number arithmetic alone. */
function countedSuccessRun(confidence: number, reliability: number): number {
  let n = 1;
  while (BigInt(reliability) ** BigInt(n) * 100n > BigInt(100 - confidence) * 100n ** BigInt(n)) n += 1;
  return n;
}

describe("successRun", () => {
  it("agrees with whole-number arithmetic for all hundredths, ties included", () => {
    fc.assert(
      fc.property(hundredths, hundredths, (confidence, reliability) => {
        const { n } = successRun(confidence / 100, reliability / 100);
        expect(n).toBe(countedSuccessRun(confidence, reliability));
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    [0.9, 0.1, 1],
    [0.271, 0.9, 3],
    [0.36, 0.8, 2],
    [0.19, 0.9, 2],
    [0.75, 0.5, 2],
    [0.999, 0.1, 3],
  ])("meets the tie at C = %d, R = %d exactly", (confidence, reliability, n) => {
    expect(successRun(confidence, reliability)).toEqual({ n, realSolution: n });
  });

  it("keeps the digits of a reliability near 1", () => {
    expectRelative(successRun(0.95, 0.999999999999).realSolution, Math.log(20) / 1e-12, 1e-11);
  });

  it("is the plan that allows no failure", () => {
    fc.assert(
      fc.property(hundredths, fc.integer({ min: 1, max: 999 }), (c, r) => {
        expect(successRun(c / 100, r / 1000).n).toBe(cPlan(c / 100, r / 1000, 0).n);
      }),
    );
  });

  it("refuses certainty", () => {
    expect(() => successRun(1, 0.9)).toThrow(
      new RangeError("confidence must be above 0 and below 1 but is 1"),
    );
    expect(() => successRun(0.9, 1)).toThrow(
      new RangeError("reliability must be above 0 and below 1 but is 1"),
    );
  });
});

describe("successRunReliability", () => {
  it("undoes successRun: n passes show at least the reliability asked for, n - 1 do not", () => {
    fc.assert(
      fc.property(hundredths, fc.integer({ min: 1, max: 999 }), (c, r) => {
        const { n } = successRun(c / 100, r / 1000);
        expect(successRunReliability(c / 100, n).reliability).toBeGreaterThanOrEqual(
          (r / 1000) * (1 - 1e-14),
        );
        if (n > 1) expect(successRunReliability(c / 100, n - 1).reliability).toBeLessThan(r / 1000);
      }),
    );
  });

  it("put back: R^n = 1 - C, and the failure rate is what is left", () => {
    const { reliability, failureRateUpper } = successRunReliability(0.95, 59);
    expectRelative(reliability ** 59, 0.05, 1e-13);
    expectRelative(reliability + failureRateUpper, 1, 1e-15);
  });

  it("refuses no test, or half a test", () => {
    expect(() => successRunReliability(0.9, 0)).toThrow(
      new RangeError("n must be a whole number of 1 or more but is 0"),
    );
    expect(() => successRunReliability(0.9, 2.5)).toThrow(
      new RangeError("n must be a whole number of 1 or more but is 2.5"),
    );
  });
});

describe("cPlan", () => {
  it("meets its condition and would not with one specimen fewer", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 50, max: 99 }),
        fc.integer({ min: 50, max: 99 }),
        fc.nat(12),
        (confidence, reliability, c) => {
          const { n, acceptProbability } = cPlan(confidence / 100, reliability / 100, c);
          const limit = (100 - confidence) / 100;
          expect(acceptProbability).toBeLessThanOrEqual(limit * (1 + 1e-12));
          expect(binomialAtMost(c, n - 1, (100 - reliability) / 100)).toBeGreaterThan(limit * (1 - 1e-12));
        },
      ),
    );
  });

  it("meets a tie exactly: one failure allowed, two fair coins, 3/4", () => {
    expect(cPlan(0.25, 0.5, 1)).toEqual({ n: 2, acceptProbability: 0.75 });
  });

  it("refuses what is no number of failures", () => {
    expect(() => cPlan(0.9, 0.9, -1)).toThrow(
      new RangeError("c must be a whole number of 0 or more but is -1"),
    );
    expect(() => cPlan(0.9, 1.2, 1)).toThrow(
      new RangeError("reliability must be above 0 and below 1 but is 1.2"),
    );
    expect(() => cPlan(0, 0.9, 1)).toThrow(new RangeError("confidence must be above 0 and below 1 but is 0"));
  });
});

describe("twoPointPlan", () => {
  it("is the smallest of all plans that meet both conditions, by trying them all", () => {
    const meets = (n: number, c: number) =>
      binomialAtMost(c, n, 0.02) >= 0.9 && binomialAtMost(c, n, 0.2) <= 0.1;
    const plan = twoPointPlan(0.02, 0.1, 0.2, 0.1);
    expect(meets(plan.n, plan.c)).toBe(true);
    for (let n = 1; n < plan.n; n += 1) {
      for (let c = 0; c < n; c += 1) expect(meets(n, c)).toBe(false);
    }
  });

  it("meets ties exactly: a coin against three in four, one half and one quarter", () => {
    const plan = twoPointPlan(0.5, 0.5, 0.75, 0.25);
    expect(plan).toMatchObject({ n: 1, c: 0 });
    expectRelative(plan.acceptAtP1, 0.5, 1e-14);
    expectRelative(plan.acceptAtP2, 0.25, 1e-14);
  });

  it.each([
    [0.1, 0.05, 0.1, 0.05, "p1 must be below p2 = 0.1 but is 0.1"],
    [0, 0.05, 0.1, 0.05, "p1 must be above 0 and below 1 but is 0"],
    [0.1, 1, 0.2, 0.05, "alpha must be above 0 and below 1 but is 1"],
    [0.1, 0.05, 1, 0.05, "p2 must be above 0 and below 1 but is 1"],
    [0.1, 0.05, 0.2, 0, "beta must be above 0 and below 1 but is 0"],
  ])("refuses p1 %d, alpha %d, p2 %d, beta %d", (p1, alpha, p2, beta, message) => {
    expect(() => twoPointPlan(p1, alpha, p2, beta)).toThrow(new RangeError(message));
  });
});
