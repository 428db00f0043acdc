import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cPlan } from "../../../src/core/stats/c-plan.ts";
import { clopperPearsonUpper } from "../../../src/core/stats/clopper-pearson.ts";
import { badInLot, fewestBadInLot, mostBadInLot } from "../../../src/core/stats/finite-lot.ts";
import { finiteLotSampleSize } from "../../../src/core/stats/finite-lot-sample-size.ts";

function choose(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n;
  let result = 1n;
  for (let i = 1; i <= k; i += 1) result = (result * BigInt(n - k + i)) / BigInt(i);
  return result;
}

/** Ways to draw n of `size` so that k or fewer are bad, `bad` being bad in the lot. */
function waysAtMost(k: number, size: number, bad: number, n: number): bigint {
  let ways = 0n;
  for (let i = 0; i <= k; i += 1) ways += choose(bad, i) * choose(size - bad, n - i);
  return ways;
}

const lot = fc.integer({ min: 1, max: 40 }).chain((size) => {
  return fc.integer({ min: 1, max: size }).chain((n) => {
    return fc.record({ size: fc.constant(size), n: fc.constant(n), k: fc.integer({ min: 0, max: n }) });
  });
});

describe("bounds on the number bad in a lot", () => {
  it("are the extreme numbers whose tail is above 1/20, by counting", () => {
    fc.assert(
      fc.property(lot, ({ size, n, k }) => {
        const kept = (bad: number) => waysAtMost(k, size, bad, n) * 20n > choose(size, n);
        let most = k;
        for (let bad = k; bad <= size - (n - k); bad += 1) if (kept(bad)) most = bad;
        expect(mostBadInLot(size, n, k, 0.05)).toBe(most);
      }),
    );
  });

  it("mirror: the fewest bad are the lot less the most good", () => {
    fc.assert(
      fc.property(lot, ({ size, n, k }) => {
        expect(fewestBadInLot(size, n, k, 0.05)).toBe(size - mostBadInLot(size, n, n - k, 0.05));
      }),
    );
  });

  it("hold what was seen, and no more than can be", () => {
    fc.assert(
      fc.property(lot, ({ size, n, k }) => {
        const { lower, upper } = badInLot(size, n, k, 0.95);
        expect(lower).toBeGreaterThanOrEqual(k);
        expect(upper).toBeLessThanOrEqual(size - (n - k));
        expect(lower).toBeLessThanOrEqual(upper);
      }),
    );
  });

  it("are exact when the whole lot was tested", () => {
    expect(badInLot(12, 12, 3, 0.95)).toEqual({ lower: 3, upper: 3 });
  });

  it("approach the binomial bound in a huge lot", () => {
    const share = mostBadInLot(1e6, 59, 0, 0.05) / 1e6;
    expect(Math.abs(share - clopperPearsonUpper(0, 59, 0.05))).toBeLessThan(1e-5);
  });

  it.each([
    [0, 1, 0, "lot size must be a whole number of 1 or more but is 0"],
    [10, 11, 0, "n must be at most the lot size 10 but is 11"],
    [10, 0, 0, "n must be a whole number of 1 or more but is 0"],
    [10, 5, 6, "k must be a whole number from 0 to n = 5 but is 6"],
  ])("refuse a lot of %d with %d tested and %d bad", (size, n, k, message) => {
    expect(() => mostBadInLot(size, n, k, 0.05)).toThrow(new RangeError(message));
    expect(() => fewestBadInLot(size, n, k, 0.05)).toThrow(new RangeError(message));
  });

  it("refuse a tail or a level that is no probability", () => {
    expect(() => mostBadInLot(10, 5, 0, 0)).toThrow("tail probability must be above 0 and below 1 but is 0");
    expect(() => badInLot(10, 5, 0, 1)).toThrow("level must be above 0 and below 1 but is 1");
  });
});

describe("finiteLotSampleSize", () => {
  it("is the smallest sample that meets its condition, by counting", () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 1, max: 60 })
          .chain((size) => fc.tuple(fc.constant(size), fc.integer({ min: 1, max: size }))),
        fc.constantFrom(50, 75, 80, 90, 95, 99),
        ([size, bad], confidence) => {
          const enough = (n: number) =>
            choose(size - bad, n) * 100n <= BigInt(100 - confidence) * choose(size, n);
          let n = 1;
          while (!enough(n)) n += 1;
          expect(finiteLotSampleSize(size, bad, confidence / 100).n).toBe(n);
        },
      ),
    );
  });

  it("never needs more than an endless lot of the same share bad", () => {
    for (const [size, bad] of [
      [100, 5],
      [1000, 50],
      [100_000, 5000],
    ] as const) {
      expect(finiteLotSampleSize(size, bad, 0.95).n).toBeLessThanOrEqual(cPlan(0.95, 0.95, 0).n);
    }
  });

  it("refuses what cannot be", () => {
    expect(() => finiteLotSampleSize(10, 11, 0.9)).toThrow(
      new RangeError("number of bad items must be at most the lot size 10 but is 11"),
    );
    expect(() => finiteLotSampleSize(10, 0, 0.9)).toThrow(
      new RangeError("number of bad items must be a whole number of 1 or more but is 0"),
    );
    expect(() => finiteLotSampleSize(10, 1, 1)).toThrow(
      new RangeError("confidence must be above 0 and below 1 but is 1"),
    );
  });
});
