import { describe, expect, it } from "vitest";
import { tripSeconds } from "../../../src/core/thermal/trip-time.ts";

// Computed from the formula of IEC 60255-149 (hot and cold curve): no complete published worked example was readable.
const tau600pickup105: readonly (readonly [number, number, number, number, number])[] = [
  [1.2, 870.5, 756.09, 374.49, 159.13],
  [1.35, 557.23, 468.7, 204.56, 79.86],
  [1.5, 404.01, 333.34, 136.23, 51.33],
  [2, 193.47, 154.74, 57.7, 20.86],
  [3, 78.41, 61.5, 21.82, 7.74],
];

describe("tripSeconds", () => {
  it.each(tau600pickup105)("gives the tabled times at %f times rating", (m, p0, p5, p9, p10) => {
    const model = { tauSeconds: 600, pickup: 1.05 };
    expect(tripSeconds(model, m, 0)).toBeCloseTo(p0, 1);
    expect(tripSeconds(model, m, 0.5)).toBeCloseTo(p5, 1);
    expect(tripSeconds(model, m, 0.9)).toBeCloseTo(p9, 1);
    expect(tripSeconds(model, m, 1)).toBeCloseTo(p10, 1);
  });

  it.each([
    [1.35, 388.01],
    [2, 120.42],
    [3, 47.68],
    [6, 11.23],
  ])("gives the tabled cold time of tau 300 s, pick-up 1.15 at %f", (m, seconds) => {
    expect(tripSeconds({ tauSeconds: 300, pickup: 1.15 }, m)).toBeCloseTo(seconds, 1);
  });

  it("satisfies the heat balance it solves", () => {
    const model = { tauSeconds: 417, pickup: 1.12 };
    for (const m of [1.2, 1.35, 2, 7]) {
      const t = tripSeconds(model, m, 0.6);
      const theta = m * m + (0.36 - m * m) * Math.exp(-t / model.tauSeconds);
      expect(theta).toBeCloseTo(model.pickup ** 2, 10);
    }
  });

  it("never trips at or below the pick-up, and has tripped where the pre-load is beyond it", () => {
    expect(tripSeconds({ tauSeconds: 100, pickup: 1.15 }, 1.15)).toBe(Number.POSITIVE_INFINITY);
    expect(tripSeconds({ tauSeconds: 100, pickup: 1.15 }, 2, 1.2)).toBe(0);
  });

  it("refuses what is not a model or a multiple", () => {
    expect(() => tripSeconds({ tauSeconds: 0, pickup: 1 }, 2)).toThrow("Expected tau above 0 s but found 0");
    expect(() => tripSeconds({ tauSeconds: 1, pickup: -1 }, 2)).toThrow(
      "Expected a pick-up above 0 but found -1",
    );
    expect(() => tripSeconds({ tauSeconds: 1, pickup: 1 }, Number.NaN)).toThrow("found NaN");
    expect(() => tripSeconds({ tauSeconds: 1, pickup: 1 }, 2, -1)).toThrow(
      "pre-load of 0 or more but found -1",
    );
  });
});
