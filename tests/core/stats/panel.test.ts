import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { incompleteBeta } from "../../../src/core/stats/incomplete-beta.ts";
import { panelExpectation } from "../../../src/core/stats/panel-expectation.ts";
import { type Panel, panelRisk } from "../../../src/core/stats/panel-risk.ts";
import { posteriorRate } from "../../../src/core/stats/posterior-rate.ts";
import { expectRelative } from "./close-to.ts";

const kind = fc.integer({ min: 0, max: 60 }).chain((tested) => {
  return fc.record({
    count: fc.integer({ min: 0, max: 40 }),
    rate: fc.integer({ min: 0, max: tested }).map((k) => posteriorRate(k, tested, 0.5)),
  });
});
const panel: fc.Arbitrary<Panel> = fc.record({ single: kind, double: kind });
const empty = { count: 0, rate: posteriorRate(1, 10, 0.5) };

describe("panelRisk", () => {
  it("for one breaker is its rate: mean, spread and quantiles of the posterior", () => {
    const rate = posteriorRate(2, 50, 1);
    const { a, b } = rate;
    const risk = panelRisk({ single: { count: 1, rate }, double: empty }, 0.95);
    expectRelative(risk.mean, a / (a + b), 1e-13);
    expectRelative(risk.standardDeviation, Math.sqrt((a * b) / (a + b) ** 2 / (a + b + 1)), 1e-12);
    expectRelative(incompleteBeta(risk.median, 1 - risk.median, a, b).lower, 0.5, 1e-10);
    expectRelative(incompleteBeta(risk.upperOneSided95, 1 - risk.upperOneSided95, a, b).upper, 0.05, 1e-10);
  });

  it("does not care which kind is called which", () => {
    fc.assert(
      fc.property(panel, ({ single, double }) => {
        const one = panelRisk({ single, double }, 0.9);
        const other = panelRisk({ single: double, double: single }, 0.9);
        expectRelative(one.mean, other.mean, 1e-12);
        expectRelative(one.median, other.median, 1e-9);
        expectRelative(one.interval.lower, other.interval.lower, 1e-9);
        expectRelative(one.interval.upper, other.interval.upper, 1e-9);
      }),
      { numRuns: 6 },
    );
  });

  it("with two uniform rates has the distribution of 1 - U V: P(<= r) = 1 - (1 - r)(1 - ln(1 - r))", () => {
    const rate = posteriorRate(0, 0, 1);
    const { median, interval, mean } = panelRisk(
      { single: { count: 1, rate }, double: { count: 1, rate } },
      0.9,
    );
    const below = (r: number) => 1 - (1 - r) * (1 - Math.log1p(-r));
    expectRelative(below(median), 0.5, 1e-11);
    expectRelative(below(interval.lower), 0.05, 1e-10);
    expectRelative(below(interval.upper), 0.95, 1e-11);
    expectRelative(mean, 0.75, 1e-14);
  });

  it("is not what the mean rates would give: the mean over their uncertainty is lower", () => {
    const rate = posteriorRate(3, 60, 0.5);
    const { mean } = panelRisk({ single: { count: 24, rate }, double: empty }, 0.95);
    expect(mean).toBeLessThan(1 - (1 - rate.a / (rate.a + rate.b)) ** 24);
  });

  it("rises with every breaker added", () => {
    const rate = posteriorRate(3, 60, 0.5);
    let before = 0;
    for (let count = 1; count < 6; count += 1) {
      const { median } = panelRisk({ single: { count, rate }, double: { count: 1, rate } }, 0.95);
      expect(median).toBeGreaterThan(before);
      before = median;
    }
  });

  it("is nothing for an empty panel", () => {
    expect(panelRisk({ single: empty, double: empty }, 0.95)).toEqual({
      mean: 0,
      standardDeviation: 0,
      median: 0,
      interval: { lower: 0, upper: 0 },
      upperOneSided95: 0,
    });
  });

  it("is 0 or 1 where a prior says so to within the range of doubles", () => {
    const rate = posteriorRate(0, 0, 0.001);
    const risk = panelRisk({ single: { count: 1, rate }, double: { count: 1, rate } }, 0.95);
    expectRelative(risk.mean, 0.75, 1e-12);
    expect(risk.interval.lower).toBeLessThan(1e-300);
    expect(risk.interval.upper).toBe(1);
  });

  it("refuses half a breaker and a level outside (0, 1)", () => {
    expect(() => panelRisk({ single: { ...empty, count: 0.5 }, double: empty }, 0.95)).toThrow(
      new RangeError("number of one-pole breakers must be a whole number of 0 or more but is 0.5"),
    );
    expect(() => panelRisk({ single: empty, double: { ...empty, count: -1 } }, 0.95)).toThrow(
      new RangeError("number of two-pole breakers must be a whole number of 0 or more but is -1"),
    );
    expect(() => panelRisk({ single: empty, double: empty }, 1)).toThrow(
      new RangeError("level must be above 0 and below 1 but is 1"),
    );
  });
});

describe("panelExpectation", () => {
  it("with two uniform rates has the distribution of U + V: P(<= s) = s²/2 up to 1", () => {
    const rate = posteriorRate(0, 0, 1);
    const { expectedFailures, randomCircuit } = panelExpectation(
      { single: { count: 1, rate }, double: { count: 1, rate } },
      0.9,
    );
    expectRelative(expectedFailures.mean, 1, 1e-14);
    expectRelative(expectedFailures.standardDeviation, Math.sqrt(1 / 6), 1e-13);
    expectRelative(expectedFailures.median, 1, 1e-11);
    expectRelative(expectedFailures.interval.lower, Math.sqrt(0.1), 1e-10);
    expectRelative(expectedFailures.interval.upper, 2 - Math.sqrt(0.1), 1e-10);
    expectRelative(randomCircuit?.interval.lower ?? 0, Math.sqrt(0.1) / 2, 1e-10);
  });

  it("does not care which kind is called which, also where a rate is likely near 1", () => {
    const single = { count: 3, rate: posteriorRate(9, 9, 0.5) };
    const double = { count: 2, rate: posteriorRate(1, 4, 0.5) };
    const one = panelExpectation({ single, double }, 0.9).expectedFailures;
    const other = panelExpectation({ single: double, double: single }, 0.9).expectedFailures;
    expectRelative(one.median, other.median, 1e-10);
    expectRelative(one.interval.lower, other.interval.lower, 1e-10);
    expectRelative(one.interval.upper, other.interval.upper, 1e-10);
  });

  it("is at least the chance that any fails, in the mean (Boole's inequality)", () => {
    fc.assert(
      fc.property(panel, (one) => {
        const { mean } = panelExpectation(one, 0.95).expectedFailures;
        expect(mean).toBeGreaterThanOrEqual(panelRisk(one, 0.95).mean - 1e-12);
      }),
      { numRuns: 4 },
    );
  });

  it("has no random circuit in an empty panel", () => {
    const { expectedFailures, randomCircuit } = panelExpectation({ single: empty, double: empty }, 0.95);
    expect(expectedFailures.mean).toBe(0);
    expect(randomCircuit).toBeNull();
  });
});

describe("posteriorRate", () => {
  it("adds the prior to both counts, also where nothing was tested", () => {
    expect(posteriorRate(2, 50, 0.5)).toEqual({ a: 2.5, b: 48.5 });
    expect(posteriorRate(0, 0, 1)).toEqual({ a: 1, b: 1 });
  });

  it("refuses counts that cannot be and a prior not above 0", () => {
    expect(() => posteriorRate(1, 0, 1)).toThrow(
      new RangeError("n must be a whole number of 1 or more but is 0"),
    );
    expect(() => posteriorRate(1, 2, 0)).toThrow(new RangeError("prior must be above 0 but is 0"));
  });
});
