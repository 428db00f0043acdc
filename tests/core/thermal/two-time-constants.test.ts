import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitTripModel } from "../../../src/core/thermal/fit-trip-model.ts";
import { curveMultiples, predictTripCurve } from "../../../src/core/thermal/predict-trip-curve.ts";
import { type TripShot, tripLogLikelihood } from "../../../src/core/thermal/trip-log-likelihood.ts";
import { tripSeconds } from "../../../src/core/thermal/trip-time.ts";
import {
  aicc,
  chooseTimeConstants,
  twoConstantLogLikelihood,
} from "../../../src/core/thermal/two-time-constants.ts";
import { twoConstantTripSeconds } from "../../../src/core/thermal/two-time-constants-trip.ts";

const known = { fastTauSeconds: 40, slowTauSeconds: 900, weight: 0.6, pickup: 1.18 };
const sigma = 0.01;

/** Scatter that is the same on every machine: normal scores (i - 1/2) / n, in an order that does not follow the multiples. */
const scores = [0.674, -1.15, 0.157, -0.489, 1.15, -0.157, 0.489, -0.674, 1.645, -1.645, 0.319, -0.319];
const multiples = [1.25, 1.25, 1.35, 1.35, 1.5, 1.5, 2, 2, 3, 3, 5, 5];
const simulated = (seconds: (multiple: number) => number): TripShot[] =>
  multiples.map((multiple, i) => ({
    multiple,
    kind: "tripped",
    seconds: seconds(multiple) * Math.exp(sigma * (scores[i] ?? 0)),
  }));

const arbitraryModel = fc.record({
  fastTauSeconds: fc.double({ min: 1, max: 200, noNaN: true }),
  slowTauSeconds: fc.double({ min: 200, max: 5000, noNaN: true }),
  weight: fc.double({ min: 0.02, max: 0.98, noNaN: true }),
  pickup: fc.double({ min: 1.01, max: 1.4, noNaN: true }),
});
const above = fc.double({ min: 1.001, max: 10, noNaN: true });
const share = fc.double({ min: 0, max: 0.95, noNaN: true });

describe("twoConstantTripSeconds", () => {
  it("puts back into the heat equation: theta at that time is the square of the pick-up", () => {
    fc.assert(
      fc.property(arbitraryModel, above, share, (model, over, part) => {
        const m = model.pickup * over;
        const q = model.pickup * part;
        const t = twoConstantTripSeconds(model, m, q);
        const rise =
          -model.weight * Math.expm1(-t / model.fastTauSeconds) -
          (1 - model.weight) * Math.expm1(-t / model.slowTauSeconds);
        const theta = q * q + (m * m - q * q) * rise;
        expect(Math.abs(theta / model.pickup ** 2 - 1)).toBeLessThan(1e-9);
      }),
    );
  });

  it("is the curve of one time constant where both are equal (IEC 60255-149, cold and hot curve)", () => {
    fc.assert(
      fc.property(above, share, (over, part) => {
        const [pickup, tauSeconds] = [1.15, 300];
        const two = { fastTauSeconds: tauSeconds, slowTauSeconds: tauSeconds, weight: 0.4, pickup };
        const wanted = tripSeconds({ tauSeconds, pickup }, pickup * over, pickup * part);
        expect(twoConstantTripSeconds(two, pickup * over, pickup * part) / wanted).toBeCloseTo(1, 9);
      }),
    );
  });

  it("lies between the curves of its two constants, and never trips below the pick-up", () => {
    fc.assert(
      fc.property(arbitraryModel, above, (model, over) => {
        const m = model.pickup * over;
        const t = twoConstantTripSeconds(model, m);
        const fast = tripSeconds({ tauSeconds: model.fastTauSeconds, pickup: model.pickup }, m);
        const slow = tripSeconds({ tauSeconds: model.slowTauSeconds, pickup: model.pickup }, m);
        expect(t).toBeGreaterThanOrEqual(fast * (1 - 1e-9));
        expect(t).toBeLessThanOrEqual(slow * (1 + 1e-9));
        expect(twoConstantTripSeconds(model, model.pickup)).toBe(Number.POSITIVE_INFINITY);
      }),
    );
  });

  it("refuses a slow constant that is the faster one", () => {
    expect(() => twoConstantTripSeconds({ ...known, slowTauSeconds: 3 }, 2)).toThrow("found 40 and 3");
  });
});

describe("chooseTimeConstants", () => {
  it("finds two, and the known parameters, in shots simulated from two", () => {
    const shots = simulated((multiple) => twoConstantTripSeconds(known, multiple));
    const chosen = chooseTimeConstants(shots, fitTripModel(shots));
    expect(chosen.timeConstants).toBe(2);
    const { two } = chosen;
    if (two === null) throw new Error(chosen.criterion);
    expect(two.pickup).toBeCloseTo(known.pickup, 1);
    expect(Math.abs(Math.log(two.fastTauSeconds / known.fastTauSeconds))).toBeLessThan(0.2);
    expect(Math.abs(Math.log(two.slowTauSeconds / known.slowTauSeconds))).toBeLessThan(0.3);
    expect(Math.abs(two.weight - known.weight)).toBeLessThan(0.1);
    expect(two.logLikelihood).toBeGreaterThanOrEqual(twoConstantLogLikelihood(shots, { ...known, sigma }));
    for (const multiple of [1.25, 1.5, 2, 4]) {
      const wanted = twoConstantTripSeconds(known, multiple);
      expect(Math.abs(twoConstantTripSeconds(two, multiple) / wanted - 1)).toBeLessThan(0.03);
    }
  });

  it("keeps one in shots simulated from one", () => {
    const shots = simulated((multiple) => tripSeconds({ tauSeconds: 150, pickup: 1.18 }, multiple));
    const chosen = chooseTimeConstants(shots, fitTripModel(shots));
    expect(chosen.timeConstants).toBe(1);
  });

  it("does not try a second without enough trips near the pick-up, and says how many there are", () => {
    const far = simulated((multiple) => twoConstantTripSeconds(known, multiple)).filter(
      (shot) => shot.multiple >= 2,
    );
    const chosen = chooseTimeConstants([...far, ...far], fitTripModel([...far, ...far]));
    expect(chosen).toMatchObject({ timeConstants: 1, two: null });
    expect(chosen.criterion).toContain("0 of them near the pick-up");
  });

  it("has the likelihood of one time constant where both are equal, for every kind of shot", () => {
    const shots: TripShot[] = [
      { multiple: 1.35, kind: "held", seconds: 1010 },
      { multiple: 1.1, kind: "held", seconds: 3600 },
      { multiple: 2, kind: "interval", seconds: 100, secondsUpper: 165 },
      { multiple: 3, kind: "tripped", seconds: 50, preload: 0.5 },
    ];
    const one = tripLogLikelihood(shots, [Math.log(300), 1.15, Math.log(0.2)]).value;
    const equal = { fastTauSeconds: 300, slowTauSeconds: 300, weight: 0.3, pickup: 1.15, sigma: 0.2 };
    expect(twoConstantLogLikelihood(shots, equal)).toBeCloseTo(one, 9);
  });

  it("computes AICc as Hurvich and Tsai (1989) define it", () => {
    // -2 lnL + 2k n/(n - k - 1), the other common way to write it.
    expect(aicc(-10, 3, 12)).toBeCloseTo(20 + (2 * 3 * 12) / (12 - 3 - 1), 12);
    expect(aicc(-10, 5, 6)).toBeNull();
  });
});

describe("predictTripCurve", () => {
  it("has bounds about the median that widen with the level and hold the shots it came from", () => {
    const shots = simulated((multiple) => tripSeconds({ tauSeconds: 150, pickup: 1.18 }, multiple));
    const one = fitTripModel(shots);
    if (!one.estimable) throw new Error(one.advice);
    const narrow = predictTripCurve(shots, { one }, multiples, 0.5);
    const wide = predictTripCurve(shots, { one }, multiples, 0.999);
    multiples.forEach((_, i) => {
      expect(wide.lower[i] ?? Number.NaN).toBeLessThan(narrow.lower[i] ?? Number.NaN);
      expect(wide.upper[i] ?? Number.NaN).toBeGreaterThan(narrow.upper[i] ?? Number.NaN);
      expect(narrow.lower[i] ?? Number.NaN).toBeLessThan(narrow.median[i] ?? Number.NaN);
      const { seconds = 0 } = shots[i] ?? {};
      expect(seconds).toBeGreaterThan(wide.lower[i] ?? Number.NaN);
      expect(seconds).toBeLessThan(wide.upper[i] ?? Number.NaN);
    });
  });

  it("has, in tau alone, the standard error of the fit: far above a given pick-up ln t moves as ln tau", () => {
    const shots = simulated((multiple) => tripSeconds({ tauSeconds: 150, pickup: 1.18 }, multiple));
    const one = fitTripModel(shots);
    if (!one.estimable || one.seLogTau === null || one.sePickup === null) throw new Error("not estimable");
    const [m] = [1.25];
    const { lower, upper } = predictTripCurve(shots, { one }, [m], 0.6826894921370859);
    const spread = Math.log((upper[0] ?? 0) / (lower[0] ?? 0)) / 2;
    expect(spread).toBeGreaterThan(one.sigma);
    const slope =
      (2 * one.pickup) / (m * m - one.pickup ** 2) / Math.log((m * m) / (m * m - one.pickup ** 2));
    const most = Math.hypot(one.sigma, one.seLogTau + Math.abs(slope) * one.sePickup);
    expect(spread).toBeLessThan(most);
  });

  it("covers from just above the pick-up, and leaves out what would never trip", () => {
    const grid = curveMultiples(1.2, 10);
    expect(grid[0]).toBeGreaterThan(1.2);
    expect(grid.at(-1)).toBeCloseTo(10, 9);
    const shots = simulated((multiple) => twoConstantTripSeconds(known, multiple));
    const { two } = chooseTimeConstants(shots, fitTripModel(shots));
    if (two === null) throw new Error("no second time constant");
    const curve = predictTripCurve(shots, { two }, [1, ...multiples]);
    expect(curve.multiples).toHaveLength(multiples.length);
    expect(curve.upper.every((upper) => upper !== null)).toBe(true);
  });
});
