import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { breslowDay } from "../../../src/core/stats/breslow-day.ts";
import { cochranArmitage } from "../../../src/core/stats/cochran-armitage.ts";
import { mantelHaenszelOddsRatio, mantelHaenszelTest } from "../../../src/core/stats/mantel-haenszel.ts";
import { woolfOddsRatio } from "../../../src/core/stats/woolf-odds-ratio.ts";
import { expectRelative } from "./close-to.ts";
import { sample, twoGroups } from "./samples.ts";

const strata = fc.array(twoGroups, { minLength: 1, maxLength: 6 });

describe("mantelHaenszelTest", () => {
  it("in one stratum is (N - 1)/N of Pearson's chi-square", () => {
    fc.assert(
      fc.property(twoGroups, ({ x1, n1, x2, n2 }) => {
        const test = mantelHaenszelTest([{ x1, n1, x2, n2 }]);
        fc.pre(test !== null);
        const total = n1 + n2;
        const events = x1 + x2;
        const pearson =
          (total * (x1 * (n2 - x2) - x2 * (n1 - x1)) ** 2) / (n1 * n2 * events * (total - events));
        expectRelative(test.plain.statistic, (pearson * (total - 1)) / total, 1e-9);
      }),
    );
  });

  it("does not care for the order of strata, nor for which group is first", () => {
    fc.assert(
      fc.property(strata, (list) => {
        const one = mantelHaenszelTest(list);
        fc.pre(one !== null);
        const turned = list.map(({ x1, n1, x2, n2 }) => ({ x1: x2, n1: n2, x2: x1, n2: n1 })).reverse();
        const other = mantelHaenszelTest(turned);
        expect(Math.abs((other?.plain.statistic ?? 0) - one.plain.statistic)).toBeLessThan(1e-9);
        expect(one.corrected.statistic).toBeLessThanOrEqual(one.plain.statistic);
      }),
    );
  });

  it("corrects by no more than there is to correct", () => {
    const test = mantelHaenszelTest([{ x1: 1, n1: 2, x2: 1, n2: 2 }]);
    expect(test?.corrected).toEqual({ statistic: 0, p: 1 });
  });

  it("is not estimable without events or without non-events", () => {
    expect(mantelHaenszelTest([{ x1: 0, n1: 5, x2: 0, n2: 5 }])).toBeNull();
    expect(mantelHaenszelTest([{ x1: 5, n1: 5, x2: 5, n2: 5 }])).toBeNull();
  });

  it("refuses no strata and counts that cannot be, naming stratum and group", () => {
    expect(() => mantelHaenszelTest([])).toThrow(
      new RangeError("strata must be one or more but there are none"),
    );
    expect(() =>
      mantelHaenszelTest([
        { x1: 1, n1: 2, x2: 1, n2: 2 },
        { x1: 1, n1: 2, x2: 3, n2: 2 },
      ]),
    ).toThrow(new RangeError("stratum 2, group 2: k must be a whole number from 0 to n = 2 but is 3"));
  });
});

describe("mantelHaenszelOddsRatio", () => {
  it("in one stratum is the sample odds ratio with Woolf's standard error", () => {
    fc.assert(
      fc.property(twoGroups, (groups) => {
        const sampleRatio = woolfOddsRatio(groups, 0.95);
        fc.pre(sampleRatio.lower !== null && sampleRatio.upper !== null && sampleRatio.estimate !== null);
        const pooled = mantelHaenszelOddsRatio([groups], 0.95);
        expectRelative(pooled?.estimate ?? 0, sampleRatio.estimate, 1e-12);
        expectRelative(pooled?.lower ?? 0, sampleRatio.lower, 1e-9);
        expectRelative(pooled?.upper ?? 0, sampleRatio.upper, 1e-9);
      }),
    );
  });

  it("does not change when a stratum without events is added", () => {
    const list = [
      { x1: 3, n1: 10, x2: 5, n2: 12 },
      { x1: 2, n1: 20, x2: 4, n2: 15 },
    ];
    const empty = { x1: 0, n1: 30, x2: 0, n2: 5 };
    expect(mantelHaenszelOddsRatio([...list, empty], 0.95)).toEqual(mantelHaenszelOddsRatio(list, 0.95));
    expect(breslowDay([...list, empty])).toEqual(breslowDay(list));
  });

  it("is not estimable where one side has no cross product", () => {
    expect(mantelHaenszelOddsRatio([{ x1: 0, n1: 5, x2: 2, n2: 5 }], 0.95)).toBeNull();
    expect(mantelHaenszelOddsRatio([{ x1: 2, n1: 5, x2: 0, n2: 5 }], 0.95)).toBeNull();
    expect(breslowDay([{ x1: 0, n1: 5, x2: 2, n2: 5 }])).toBeNull();
  });

  it("refuses a level outside (0, 1)", () => {
    expect(() => mantelHaenszelOddsRatio([{ x1: 1, n1: 2, x2: 1, n2: 2 }], 1)).toThrow(
      "level must be in (0, 1) but is 1",
    );
  });
});

describe("breslowDay", () => {
  it("is 0 where all strata have one odds ratio", () => {
    const test = breslowDay([
      { x1: 10, n1: 30, x2: 5, n2: 25 },
      { x1: 20, n1: 60, x2: 10, n2: 50 },
    ]);
    expect(test?.statistic).toBeLessThan(1e-24);
    expectRelative(test?.p ?? 0, 1, 1e-9);
  });

  it("is never less without Tarone's correction than with it", () => {
    fc.assert(
      fc.property(strata, (list) => {
        const test = breslowDay(list);
        fc.pre(test !== null);
        expect(test.taroneStatistic).toBeLessThanOrEqual(test.statistic);
        expect(test.degreesOfFreedom).toBeLessThan(list.length);
      }),
    );
  });

  it("has no p-value for one stratum", () => {
    const test = breslowDay([{ x1: 7, n1: 34, x2: 1, n2: 34 }]);
    expect(test).toMatchObject({ p: null, taroneP: null, degreesOfFreedom: 0 });
    expect(test?.statistic).toBeLessThan(1e-20);
  });
});

describe("cochranArmitage", () => {
  const groups = fc.array(sample, { minLength: 2, maxLength: 6 }).map((list) => {
    return list.map(({ k, n }, index) => ({ x: k, n, score: index * index }));
  });

  it("does not care for the scale and origin of the scores, and changes sign with them", () => {
    fc.assert(
      fc.property(groups, (list) => {
        const one = cochranArmitage(list);
        fc.pre(one !== null);
        const moved = cochranArmitage(list.map((group) => ({ ...group, score: 1900 + 10 * group.score })));
        const turned = cochranArmitage(list.map((group) => ({ ...group, score: -group.score })));
        expect(Math.abs((moved?.z ?? 9) - one.z)).toBeLessThan(1e-9);
        expect(Math.abs((turned?.z ?? 9) + one.z)).toBeLessThan(1e-9);
        expectRelative(one.pIncreasing + one.pDecreasing, 1, 1e-12);
      }),
    );
  });

  it("for two groups is the two-sample test: its chi-square is Pearson's", () => {
    const trend = cochranArmitage([
      { x: 8, n: 15, score: 0 },
      { x: 4, n: 15, score: 1 },
    ]);
    expectRelative(trend?.chiSquare ?? 0, (30 * (8 * 11 - 4 * 7) ** 2) / (15 * 15 * 12 * 18), 1e-12);
  });

  it("does not exist without events, without non-events, or without a difference in score", () => {
    expect(
      cochranArmitage([
        { x: 0, n: 5, score: 1 },
        { x: 0, n: 5, score: 2 },
      ]),
    ).toBeNull();
    expect(
      cochranArmitage([
        { x: 5, n: 5, score: 1 },
        { x: 5, n: 5, score: 2 },
      ]),
    ).toBeNull();
    expect(
      cochranArmitage([
        { x: 1, n: 5, score: 0.1 },
        { x: 2, n: 5, score: 0.1 },
      ]),
    ).toBeNull();
  });

  it("refuses fewer than two groups, impossible counts and scores that are no numbers", () => {
    expect(() => cochranArmitage([{ x: 1, n: 2, score: 1 }])).toThrow(
      new RangeError("groups must be two or more but are 1"),
    );
    expect(() =>
      cochranArmitage([
        { x: 1, n: 2, score: 1 },
        { x: 3, n: 2, score: 2 },
      ]),
    ).toThrow(new RangeError("group 2: k must be a whole number from 0 to n = 2 but is 3"));
    expect(() =>
      cochranArmitage([
        { x: 1, n: 2, score: 1 },
        { x: 1, n: 2, score: Number.NaN },
      ]),
    ).toThrow(new RangeError("group 2: score must be finite but is NaN"));
  });
});
