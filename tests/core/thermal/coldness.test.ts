import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coldness, coldShortening } from "../../../src/core/thermal/coldness.ts";
import { residualPreload } from "../../../src/core/thermal/residual-heat.ts";
import { tripSeconds } from "../../../src/core/thermal/trip-time.ts";

const model = { heatingTauSeconds: 300, coolingTauSeconds: 900, pickup: 1.15 };

describe("residualPreload", () => {
  it("is what IEC 60255-149 calls the pre-load: a long steady current leaves itself", () => {
    expect(residualPreload(model, [{ multiple: 0.9, seconds: 1e6 }])).toBeCloseTo(0.9, 10);
  });

  it("is nothing without a past, and fades with the square root of exp(-t / tau)", () => {
    expect(residualPreload(model, [])).toBe(0);
    const past = [
      { multiple: 1, seconds: 1e6 },
      { multiple: 0, seconds: 900 },
    ];
    expect(residualPreload(model, past)).toBeCloseTo(Math.exp(-0.5), 10);
  });

  it("is the pick-up after a trip", () => {
    const seconds = tripSeconds({ tauSeconds: 300, pickup: 1.15 }, 2);
    expect(residualPreload(model, [{ multiple: 2, seconds }])).toBeCloseTo(1.15, 10);
  });

  it("refuses negative numbers, naming the stretch", () => {
    expect(() => residualPreload(model, [{ multiple: 1, seconds: -1 }])).toThrow("stretch 1");
    expect(() => residualPreload({ ...model, pickup: 0 }, [])).toThrow("pickup must be above 0 but is 0");
  });
});

describe("coldness", () => {
  it("counts a specimen without a past as cold", () => {
    expect(coldness(model, [], 2)).toEqual({
      verdict: "cold",
      preload: 0,
      shortening: 0,
      secondsUntilCold: 0,
    });
  });

  it("after exactly the time it names, the specimen is cold, and a little before it is not", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.double({ min: 1, max: 4000, noNaN: true }),
        fc.double({ min: 0.8, max: 8, noNaN: true }),
        (carried, seconds, multiple) => {
          const past = [{ multiple: carried, seconds }];
          const now = coldness(model, past, multiple);
          if (now.verdict === "cold") return;
          const rest = now.secondsUntilCold;
          expect(
            coldness(model, [...past, { multiple: 0, seconds: rest * 1.0001 + 1e-6 }], multiple).verdict,
          ).toBe("cold");
          expect(coldness(model, [...past, { multiple: 0, seconds: rest * 0.99 }], multiple).verdict).toBe(
            "not cold",
          );
        },
      ),
    );
  });

  it("lets the trip time be shortened by one hundredth and no more", () => {
    const past = [{ multiple: 2, seconds: 1000 }];
    const rest = coldness(model, past, 2).secondsUntilCold;
    expect(coldness(model, [...past, { multiple: 0, seconds: rest }], 2).shortening).toBeCloseTo(
      coldShortening,
      8,
    );
  });
});
