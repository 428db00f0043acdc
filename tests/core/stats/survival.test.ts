import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { EventInterval } from "../../../src/core/stats/event-interval.ts";
import { kaplanMeier } from "../../../src/core/stats/kaplan-meier.ts";
import { fitLocationScale, type LocationScaleFit } from "../../../src/core/stats/location-scale-fit.ts";
import { logRank } from "../../../src/core/stats/log-rank.ts";
import { smallestExtremeValue, standardNormal } from "../../../src/core/stats/standard-distribution.ts";
import { survivalLimits } from "../../../src/core/stats/survival-limits.ts";
import { survivalQuantile, survivalQuantileLimits } from "../../../src/core/stats/survival-quantile.ts";
import { turnbull } from "../../../src/core/stats/turnbull.ts";
import { expectRelative } from "./close-to.ts";

const observation = fc.record({ time: fc.integer({ min: 0, max: 20 }), event: fc.boolean() });
const observations = fc.array(observation, { minLength: 1, maxLength: 40 });
const never = Number.POSITIVE_INFINITY;

describe("kaplanMeier", () => {
  it("without censoring is the share still without event", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 40 }), (times) => {
        const curve = kaplanMeier(times.map((time) => ({ time, event: true })));
        for (const { time, survival, logError } of curve.steps) {
          const share = times.filter((one) => one > time).length / times.length;
          expect(Math.abs(survival - share)).toBeLessThan(1e-14);
          // Greenwood's variance is then the binomial one
          if (share > 0) expectRelative((share * logError) ** 2, (share * (1 - share)) / times.length, 1e-11);
        }
      }),
      { numRuns: 50 },
    );
  });

  it("does not depend on the order, falls, and scales with time", () => {
    fc.assert(
      fc.property(observations, (list) => {
        const curve = kaplanMeier(list);
        expect(kaplanMeier([...list].reverse())).toEqual(curve);
        const slower = kaplanMeier(list.map(({ time, event }) => ({ time: 4 * time, event })));
        expect(slower.steps.map(({ survival }) => survival)).toEqual(
          curve.steps.map(({ survival }) => survival),
        );
        let before = 1;
        for (const { survival } of curve.steps) {
          expect(survival).toBeLessThan(before);
          before = survival;
        }
      }),
      { numRuns: 50 },
    );
  });

  it("puts an event before a censoring at the same time", () => {
    const { steps } = kaplanMeier([
      { time: 3, event: false },
      { time: 3, event: true },
    ]);
    expect(steps).toMatchObject([{ time: 3, atRisk: 2, events: 1, survival: 0.5 }]);
  });

  it("has limits that hold the curve, on every scale", () => {
    fc.assert(
      fc.property(observations, (list) => {
        const curve = kaplanMeier(list);
        for (const scale of ["log-log", "log", "plain"] as const) {
          for (const [index, limit] of survivalLimits(curve, 0.9, scale).entries()) {
            const survival = curve.steps[index]?.survival ?? Number.NaN;
            if (limit === null) expect(survival).toBe(0);
            else {
              expect(limit.lower).toBeGreaterThanOrEqual(0);
              expect(limit.lower).toBeLessThanOrEqual(survival);
              expect(limit.upper).toBeGreaterThanOrEqual(survival);
              expect(limit.upper).toBeLessThanOrEqual(1);
            }
          }
        }
      }),
      { numRuns: 50 },
    );
  });

  it("refuses no observations and a negative time", () => {
    expect(() => kaplanMeier([])).toThrow("observations must be one or more but there are none");
    expect(() => kaplanMeier([{ time: -1, event: true }])).toThrow(
      "observation 1: time must be a finite number of 0 or more but is -1",
    );
  });
});

describe("survivalQuantile", () => {
  const curveOf = (times: readonly number[], events: readonly boolean[]) =>
    kaplanMeier(times.map((time, index) => ({ time, event: events[index] ?? true })));

  it("takes the middle of the stretch where survival is exactly one half", () => {
    expect(survivalQuantile(curveOf([1, 2, 3, 7], []), 0.5)).toBe(2.5);
    // the stretch of the last step ends with the watching
    expect(survivalQuantile(curveOf([1, 2, 3, 7], [true, true, false, false]), 0.5)).toBe(4.5);
    expect(survivalQuantile(curveOf([1, 2, 3], []), 0.5)).toBe(2);
  });

  it("is null where the curve does not come down so far", () => {
    const curve = curveOf([1, 2, 3, 4], [true, false, false, false]);
    expect(survivalQuantile(curve, 0.5)).toBeNull();
    expect(survivalQuantileLimits(curve, 0.5, 0.95, "log-log").upper).toBeNull();
    expect(() => survivalQuantile(curve, 1)).toThrow("share must be above 0 and below 1 but is 1");
  });
});

describe("logRank", () => {
  const grouped = fc.array(
    fc.record({
      time: fc.integer({ min: 1, max: 9 }),
      event: fc.boolean(),
      group: fc.integer({ min: 0, max: 2 }),
    }),
    { minLength: 3, maxLength: 40 },
  );

  it("expects as many events in all as were seen, and does not depend on order or names of groups", () => {
    fc.assert(
      fc.property(grouped, (list) => {
        const test = logRank(list, 3);
        const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
        expect(Math.abs(sum(test.expected) - sum(test.observed))).toBeLessThan(1e-10);
        const renamed = logRank(
          [...list].reverse().map((one) => ({ ...one, group: 2 - one.group })),
          3,
        );
        if (test.statistic !== null && renamed.statistic !== null) {
          expect(Math.abs(renamed.statistic - test.statistic)).toBeLessThan(1e-7 * (1 + test.statistic));
        }
      }),
      { numRuns: 50 },
    );
  });

  it("with one stratum is the test without strata", () => {
    fc.assert(
      fc.property(grouped, (list) => {
        const inOne = list.map((one) => ({ ...one, stratum: "a" }));
        expect(logRank(inOne, 3)).toEqual(logRank(list, 3));
      }),
      { numRuns: 20 },
    );
  });

  it("is null where there is no event or no room for chance", () => {
    const none = [0, 1].map((group) => ({ time: 5, event: false, group }));
    expect(logRank(none, 2)).toEqual({
      observed: [0, 0],
      expected: [0, 0],
      statistic: null,
      degreesOfFreedom: 0,
      p: null,
    });
    expect(
      logRank(
        none.map((one) => ({ ...one, event: true })),
        2,
      ).p,
    ).toBeNull();
  });

  it("refuses one group and a group outside", () => {
    expect(() => logRank([{ time: 1, event: true, group: 0 }], 1)).toThrow(
      "groups must be two or more but are 1",
    );
    expect(() => logRank([{ time: 1, event: true, group: 2 }], 2)).toThrow(
      "observation 1: group must be from 0 to 1 but is 2",
    );
  });
});

const mixed: EventInterval[] = [
  { lower: 0, upper: 1.5 },
  { lower: 3, upper: 3 },
  { lower: 6, upper: 7 },
  { lower: 8, upper: 10 },
  { lower: 9.1, upper: 9.1 },
  { lower: 15, upper: never },
];

describe.each([
  ["Weibull", smallestExtremeValue],
  ["lognormal", standardNormal],
])("fitLocationScale, %s", (_name, distribution) => {
  const fitOf = (intervals: readonly EventInterval[]): LocationScaleFit => {
    const fit = fitLocationScale(intervals, distribution);
    if (typeof fit === "string") throw new Error(`no fit: ${fit}`);
    return fit;
  };

  /** Log-likelihood straight from the probabilities. */
  const direct = (intervals: readonly EventInterval[], location: number, scale: number) =>
    intervals.reduce((sum, { lower, upper }) => {
      const [from, to] = [(Math.log(lower) - location) / scale, (Math.log(upper) - location) / scale];
      if (lower < upper) return sum + distribution.logProbability(from, to);
      return sum + distribution.logDensity(from) - Math.log(scale) - Math.log(lower);
    }, 0);

  it("has the likelihood of the model and a score of 0", () => {
    const { location, scale, logLikelihood } = fitOf(mixed);
    expectRelative(direct(mixed, location, scale), logLikelihood, 1e-12);
    const h = 1e-5;
    const score = [
      direct(mixed, location + h, scale) - direct(mixed, location - h, scale),
      direct(mixed, location, scale + h) - direct(mixed, location, scale - h),
    ].map((difference) => Math.abs(difference / (2 * h)));
    expect(Math.max(...score)).toBeLessThan(1e-8);
  });

  it("has errors that are those of the observed information", () => {
    const { location, scale, locationError, logScaleError } = fitOf(mixed);
    const h = 1e-3;
    const at = (i: number, j: number) => direct(mixed, location + i * h, scale * Math.exp(j * h));
    const [aa, bb] = [
      (at(1, 0) - 2 * at(0, 0) + at(-1, 0)) / h ** 2,
      (at(0, 1) - 2 * at(0, 0) + at(0, -1)) / h ** 2,
    ];
    const ab = (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * h * h);
    expectRelative(locationError ** 2, -bb / (aa * bb - ab * ab), 1e-4);
    expectRelative(logScaleError ** 2, -aa / (aa * bb - ab * ab), 1e-4);
  });

  it("moves with the unit of time and not with the order", () => {
    const fit = fitOf(mixed);
    const seconds = fitOf(
      mixed.map(({ lower, upper }) => ({ lower: 60 * lower, upper: 60 * upper })).reverse(),
    );
    expectRelative(seconds.location, fit.location + Math.log(60), 1e-10);
    expectRelative(seconds.scale, fit.scale, 1e-10);
    expectRelative(seconds.timeAt(0.5), 60 * fit.timeAt(0.5), 1e-10);
  });

  it("has no fit where there is no finite maximum", () => {
    const exact = (time: number) => ({ lower: time, upper: time });
    const none: [EventInterval[], string][] = [
      [[60, 60].map((lower) => ({ lower, upper: never })), "one-time"],
      [[2, 3].map((upper) => ({ lower: 0, upper })), "one-time"],
      [[{ lower: 10, upper: never }, exact(60)], "one-time"],
      [[exact(8), exact(8), exact(8)], "one-time"],
      [
        [
          { lower: 10, upper: 20 },
          { lower: 20, upper: 30 },
        ],
        "one-time",
      ],
      [
        [
          { lower: 0, upper: 2 },
          { lower: 5, upper: never },
        ],
        "no-order",
      ],
    ];
    for (const [intervals, why] of none) expect(fitLocationScale(intervals, distribution)).toBe(why);
    expect(fitOf([exact(8), exact(8), exact(8.001)]).scale).toBeLessThan(1e-3);
    expect(
      fitOf([
        { lower: 0, upper: 2 },
        { lower: 0, upper: 30 },
        { lower: 1, upper: never },
        { lower: 5, upper: never },
      ]).scale,
    ).toBeGreaterThan(0);
  });

  it("refuses bounds the wrong way round", () => {
    expect(() => fitLocationScale([{ lower: 3, upper: 2 }], distribution)).toThrow(
      "observation 1: 0 <= lower <= upper with a finite (or -infinite) lower and an upper above 0 are needed but found 3 and 2",
    );
  });

  it("has a quantile whose probability is p", () => {
    for (const p of [1e-6, 0.2, 0.5, 0.99]) {
      const z = distribution.quantile(p);
      expectRelative(Math.exp(distribution.logProbability(Number.NEGATIVE_INFINITY, z)), p, 1e-12);
    }
  });
});

describe("turnbull", () => {
  it("without intervals is the Kaplan-Meier curve", () => {
    fc.assert(
      fc.property(observations, (list) => {
        const shifted = list.map(({ time, event }) => ({ time: time + 1, event }));
        const steps = turnbull(
          shifted.map(({ time, event }) => ({ lower: time, upper: event ? time : never })),
        );
        const curve = kaplanMeier(shifted);
        for (const { time, survival } of curve.steps) {
          const found = steps.find((step) => step.time === time)?.survival ?? Number.NaN;
          expect(Math.abs(found - survival)).toBeLessThan(1e-8);
        }
      }),
      { numRuns: 25 },
    );
  });

  it("cannot be bettered by moving probability between its times", () => {
    const intervals = [
      [0, 7],
      [0, 8],
      [6, 10],
      [7, 16],
      [7, 14],
      [17, 25],
      [19, 35],
      [25, 37],
      [26, 40],
      [37, 44],
      [15, never],
      [46, never],
    ].map(([lower = 0, upper = 0]) => ({ lower, upper }));
    const steps = turnbull(intervals);
    const places = [...steps.map(({ time }) => time), 1000];
    const masses = places.map(
      (_, index) =>
        (steps[index - 1]?.survival ?? 1) - (index < steps.length ? (steps[index]?.survival ?? 0) : 0),
    );
    const slopeAt = (place: number) =>
      intervals
        .filter(({ lower, upper }) => place > lower && place <= upper)
        .reduce((sum, { lower, upper }) => {
          const held = masses.reduce(
            (total, mass, index) =>
              (places[index] ?? 0) > lower && (places[index] ?? 0) <= upper ? total + mass : total,
            0,
          );
          return sum + 1 / held;
        }, 0) / intervals.length;
    // Gentleman and Geyer (1994): at most 1 everywhere, and 1 where there is probability
    for (const [index, place] of places.entries()) {
      expect(slopeAt(place)).toBeLessThan(1 + 1e-8);
      if ((masses[index] ?? 0) > 1e-9) expectRelative(slopeAt(place), 1, 1e-8);
    }
  });

  it("shows the probability of left-censored times at their end and of others at the middle", () => {
    const early = { lower: Number.NEGATIVE_INFINITY, upper: 4 };
    expect(turnbull([early, { lower: 6, upper: 6 }])).toEqual([
      { time: 4, survival: 0.5 },
      { time: 6, survival: 0 },
    ]);
    expect(turnbull([early, { lower: 0, upper: 8 }])).toEqual([{ time: 2, survival: 0 }]);
  });

  it("gives an exact time within an interval all of its probability", () => {
    expect(
      turnbull([
        { lower: 9.1, upper: 9.1 },
        { lower: 8, upper: 10 },
        { lower: 12, upper: 12 },
      ]).map(({ time, survival }) => [time, Number(survival.toFixed(9))]),
    ).toEqual([
      [9.1, 0.333333333],
      [9.55, 0.333333333],
      [12, 0],
    ]);
  });

  it("does not fall where every time is right-censored", () => {
    expect(turnbull([5, 9].map((lower) => ({ lower, upper: never })))).toEqual([
      { time: 5, survival: 1 },
      { time: 9, survival: 1 },
    ]);
  });
});
