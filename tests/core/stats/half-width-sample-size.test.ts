import { describe, expect, it } from "vitest";
import { clopperPearson } from "../../../src/core/stats/clopper-pearson.ts";
import { halfWidthSampleSize } from "../../../src/core/stats/half-width-sample-size.ts";
import { twoSidedNormalQuantile } from "../../../src/core/stats/normal-quantile.ts";

const cases = [
  [0.5, 0.1, 0.95],
  [0.02, 0.05, 0.9],
  [0.98, 0.05, 0.9],
  [0.7, 0.15, 0.8],
  [0.3, 0.3, 0.95],
  [0.45, 0.12, 0.6827],
  [0.1, 0.49, 0.95],
] as const;

describe("halfWidthSampleSize", () => {
  it.each(cases)(
    "for p %d, ± %d at %d: every larger n fits and the one before does not",
    (p, half, level) => {
      const { clopperPearsonPersistent: n } = halfWidthSampleSize(p, half, level);
      const halfWidth = (size: number) => {
        const { lower, upper } = clopperPearson(Math.floor(size * p + 0.5), size, level);
        return (upper - lower) / 2;
      };
      if (n > 1) expect(halfWidth(n - 1)).toBeGreaterThan(half);
      for (let size = n; size < 4 * n + 200; size += 1) expect(halfWidth(size)).toBeLessThanOrEqual(half);
    },
  );

  it.each(cases)("for p %d, ± %d at %d: Wilson's n fits and the one before does not", (p, half, level) => {
    const { wilson: n, wilsonHalfWidth } = halfWidthSampleSize(p, half, level);
    const z = twoSidedNormalQuantile(level);
    expect(wilsonHalfWidth).toBeLessThanOrEqual(half);
    const before = (z * Math.sqrt(4 * (n - 1) * p * (1 - p) + z * z)) / (2 * (n - 1 + z * z));
    if (n > 1) expect(before).toBeGreaterThan(half);
  });

  it("needs more specimens for less width and for more confidence", () => {
    const base = halfWidthSampleSize(0.1, 0.05, 0.95);
    const narrower = halfWidthSampleSize(0.1, 0.04, 0.95);
    const surer = halfWidthSampleSize(0.1, 0.05, 0.99);
    for (const other of [narrower, surer]) {
      expect(other.wilson).toBeGreaterThan(base.wilson);
      expect(other.clopperPearsonPersistent).toBeGreaterThan(base.clopperPearsonPersistent);
    }
  });

  it.each([
    [0, 0.1, 0.95, "p must be above 0 and below 1 but is 0"],
    [0.5, 0, 0.95, "half-width must be above 0 and below 1 but is 0"],
    [0.5, 0.1, 1, "level must be above 0 and below 1 but is 1"],
  ])("refuses p %d, ± %d at %d", (p, half, level, message) => {
    expect(() => halfWidthSampleSize(p, half, level)).toThrow(new RangeError(message));
  });
});
