import { checkOpenProbability } from "./check-arguments.ts";
import { type Belief, checkPanel, type Panel, quantileOfSum, quantilesOf } from "./panel-risk.ts";
import type { PosteriorRate } from "./posterior-rate.ts";
import type { RatePart } from "./two-rate-sum.ts";

/** How many breakers of a panel would fail, and the chance that one picked at random would. */
export interface PanelExpectation {
  expectedFailures: Belief;
  /** `null` for an empty panel */
  randomCircuit: Belief | null;
}

/**
 * Expected number n1 p1 + n2 p2 of breakers of a panel that would fail, and the same divided by their number: the chance that
 * an overload on a circuit picked at random meets a breaker that would not trip. Both with the uncertainty of the two rates.
 *
 * Source: linearity of expectation; the quantiles from the definition.
 *
 * @throws RangeError if a count is not a whole number of 0 or more, or the level outside (0, 1)
 */
export function panelExpectation(panel: Panel, level: number): PanelExpectation {
  checkPanel(panel);
  checkOpenProbability("level", level);
  const kinds = [panel.single, panel.double].filter(({ count }) => count > 0);
  const parts = kinds.map(({ count, rate }) => share(count, rate));
  const mean = kinds.reduce((sum, { count, rate: { a, b } }) => sum + (count * a) / (a + b), 0);
  const variance = kinds.reduce((sum, { count, rate: { a, b } }) => {
    return sum + (count / (a + b)) ** 2 * ((a * b) / (a + b + 1));
  }, 0);
  const expectedFailures: Belief = {
    mean,
    standardDeviation: Math.sqrt(variance),
    ...quantilesOf((probability) => quantileOfSum(probability, parts), level),
  };
  const circuits = panel.single.count + panel.double.count;
  return {
    expectedFailures,
    randomCircuit: circuits === 0 ? null : scaled(expectedFailures, 1 / circuits),
  };
}

function share(count: number, rate: PosteriorRate): RatePart {
  return {
    rate,
    most: count,
    value: ({ p }) => count * p,
    rateOf: (value) => ({ p: value / count, q: 1 - value / count }),
  };
}

function scaled(belief: Belief, factor: number): Belief {
  return {
    mean: belief.mean * factor,
    standardDeviation: belief.standardDeviation * factor,
    median: belief.median * factor,
    interval: { lower: belief.interval.lower * factor, upper: belief.interval.upper * factor },
    upperOneSided95: belief.upperOneSided95 * factor,
  };
}
