import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clusteredProportion, ratioVariance } from "../../../src/core/stats/clustered-proportion.ts";
import { intraclassCorrelation } from "../../../src/core/stats/intraclass-correlation.ts";
import { raoScott } from "../../../src/core/stats/rao-scott.ts";
import { expectRelative } from "./close-to.ts";

const cluster = fc.integer({ min: 1, max: 20 }).chain((m) => {
  return fc.record({ y: fc.integer({ min: 0, max: m }), m: fc.constant(m) });
});
const clusters = fc.array(cluster, { minLength: 2, maxLength: 30 });

describe("intraclassCorrelation", () => {
  it("is 1 where clusters are all failed or all sound, and lowest where all have one rate", () => {
    const halves = [
      { y: 4, m: 4 },
      { y: 0, m: 4 },
    ];
    expectRelative(intraclassCorrelation(halves).correlation ?? 0, 1, 1e-14);
    const alike = [
      { y: 2, m: 4 },
      { y: 2, m: 4 },
    ];
    expectRelative(intraclassCorrelation(alike).correlation ?? 0, -1 / 3, 1e-14);
  });

  it("weights cluster sizes: n0 is the size for equal clusters and below the mean for others", () => {
    expect(
      intraclassCorrelation([
        { y: 1, m: 5 },
        { y: 2, m: 5 },
      ]).n0,
    ).toBe(5);
    fc.assert(
      fc.property(clusters, (list) => {
        const mean = list.reduce((sum, { m }) => sum + m, 0) / list.length;
        expect(intraclassCorrelation(list).n0).toBeLessThanOrEqual(mean + 1e-12);
      }),
    );
  });

  it("is not estimable for one cluster, for clusters of one, or where all specimens are alike", () => {
    expect(intraclassCorrelation([{ y: 2, m: 15 }])).toEqual({ n0: null, correlation: null });
    expect(
      intraclassCorrelation([
        { y: 1, m: 1 },
        { y: 0, m: 1 },
      ]),
    ).toEqual({ n0: 1, correlation: null });
    expect(
      intraclassCorrelation([
        { y: 0, m: 3 },
        { y: 0, m: 4 },
      ]).correlation,
    ).toBeNull();
    expect(
      intraclassCorrelation([
        { y: 3, m: 3 },
        { y: 4, m: 4 },
      ]).correlation,
    ).toBeNull();
  });

  it("refuses no clusters and counts that cannot be", () => {
    expect(() => intraclassCorrelation([])).toThrow(
      new RangeError("clusters must be one or more but there are none"),
    );
    expect(() =>
      intraclassCorrelation([
        { y: 1, m: 1 },
        { y: 3, m: 2 },
      ]),
    ).toThrow(new RangeError("cluster 2: k must be a whole number from 0 to n = 2 but is 3"));
  });
});

describe("clusteredProportion", () => {
  it("for clusters of one is the binomial variance with factor K/(K - 1)", () => {
    const singles = [1, 0, 0, 1, 0, 0].map((y) => ({ y, m: 1 }));
    expectRelative(ratioVariance(singles) ?? 0, ((2 / 9) * (6 / 5)) / 6, 1e-14);
    expectRelative(clusteredProportion(singles, 0.95).ratioDesignEffect ?? 0, 6 / 5, 1e-14);
  });

  it("mirrors: sound specimens have the interval of the failures, turned", () => {
    fc.assert(
      fc.property(clusters, (list) => {
        const one = clusteredProportion(list, 0.9);
        const other = clusteredProportion(
          list.map(({ y, m }) => ({ y: m - y, m })),
          0.9,
        );
        fc.pre(one.interval !== null && other.interval !== null);
        expect(Math.abs(one.interval.lower - (1 - other.interval.upper))).toBeLessThan(1e-9);
        expect(Math.abs((one.correlation ?? 0) - (other.correlation ?? 0))).toBeLessThan(1e-9);
      }),
    );
  });

  it("holds the estimate and never leaves [0, 1]", () => {
    fc.assert(
      fc.property(clusters, (list) => {
        const { estimate, interval, correlationTruncated } = clusteredProportion(list, 0.95);
        fc.pre(interval !== null);
        expect(interval.lower).toBeGreaterThanOrEqual(0);
        expect(interval.lower).toBeLessThanOrEqual(estimate + 1e-12);
        expect(interval.upper).toBeGreaterThanOrEqual(estimate - 1e-12);
        expect(interval.upper).toBeLessThanOrEqual(1);
        expect(correlationTruncated ?? 0).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("says plainly what one cluster, or no failure, cannot tell", () => {
    expect(clusteredProportion([{ y: 2, m: 15 }], 0.95)).toMatchObject({
      standardError: null,
      ratioDesignEffect: null,
      interval: null,
      designEffect: null,
    });
    expect(
      clusteredProportion(
        [
          { y: 0, m: 3 },
          { y: 0, m: 5 },
        ],
        0.95,
      ),
    ).toMatchObject({
      estimate: 0,
      standardError: 0,
      ratioDesignEffect: null,
      interval: null,
    });
  });

  it("has no effective sample size where the design effect is not above 0", () => {
    const alike = clusteredProportion(
      [
        { y: 1, m: 2 },
        { y: 10, m: 20 },
      ],
      0.95,
    );
    expect(alike.designEffect).toBeLessThanOrEqual(0);
    expect(alike.effectiveSampleSize).toBeNull();
  });

  it("refuses a level outside (0, 1)", () => {
    expect(() => clusteredProportion([{ y: 1, m: 2 }], 0)).toThrow(
      new RangeError("level must be above 0 and below 1 but is 0"),
    );
  });
});

describe("raoScott", () => {
  it("finds nothing between two equal groups", () => {
    const group = [
      { y: 1, m: 4 },
      { y: 3, m: 5 },
    ];
    expect(raoScott([group, group])).toMatchObject({ naiveStatistic: 0, statistic: 0, p: 1 });
  });

  it("does not care for the order of groups", () => {
    fc.assert(
      fc.property(clusters, clusters, (first, second) => {
        const one = raoScott([first, second]);
        const other = raoScott([second, first]);
        fc.pre(one.statistic !== null && other.statistic !== null);
        expect(Math.abs(one.statistic - other.statistic)).toBeLessThan(1e-9 * (1 + one.statistic));
      }),
    );
  });

  it("is not estimable where a group's design effect is not", () => {
    const none = [
      { y: 0, m: 4 },
      { y: 0, m: 5 },
    ];
    const some = [
      { y: 1, m: 4 },
      { y: 0, m: 5 },
    ];
    const result = raoScott([none, some]);
    expect(result).toMatchObject({ designEffects: [null, expect.any(Number)], statistic: null, p: null });
    expect(result.naiveStatistic).toBeGreaterThan(0);
    expect(raoScott([none, none]).naiveStatistic).toBeNull();
  });

  it("refuses fewer than two groups and counts that cannot be", () => {
    expect(() => raoScott([[{ y: 1, m: 2 }]])).toThrow(
      new RangeError("groups must be two or more but are 1"),
    );
    expect(() => raoScott([[{ y: 1, m: 2 }], [{ y: 1, m: 0 }]])).toThrow(
      new RangeError("group 2, cluster 1: n must be a whole number of 1 or more but is 0"),
    );
  });
});
