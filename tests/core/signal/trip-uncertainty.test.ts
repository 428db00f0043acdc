import { describe, expect, it } from "vitest";
import { readShot } from "../../../src/core/signal/read-shot.ts";
import { adiabatic, firstOrderThermal } from "../../../src/core/signal/sensitivity.ts";
import { context, plainTrip, sampled, tripSignal, without } from "./_synthetic-shot.ts";

/** A trip after 24.0 s at so many times the pick-up, the current known to 2 % (k = 2). */
function uncertaintyAt(x: number, basis = {}) {
  const changed = {
    ...context,
    sensitivity: firstOrderThermal(2 / x),
    basis: { currentPercent: 2, currentK: 2, timerSeconds: 0, ...basis },
  };
  const { uncertainty, seconds } = readShot(tripSignal(plainTrip), changed);
  if (uncertainty === null || seconds === null) throw new Error("expected an uncertainty");
  return { ...uncertainty, seconds };
}

describe("far from the pick-up", () => {
  it("takes the slope, and says so", () => {
    const found = uncertaintyAt(3);
    expect(found.endPoints).toBeUndefined();
    expect(found.model).toContain("slope");
    expect(found.budget[0]?.seconds).toBeCloseTo(2.1225 * 24 * 0.01, 2);
  });

  it("at the adiabatic limit the current's share is 2 t u(I)/I", () => {
    const { uncertainty } = readShot(tripSignal(plainTrip), { ...context, sensitivity: adiabatic() });
    expect(uncertainty?.budget[0]?.seconds).toBeCloseTo(2 * 24 * 0.005, 3);
  });
});

describe("near the pick-up", () => {
  it("maps the ends: at x 1.05 and 2 % they are 2.05423/2.375473 and 2.89009/2.375473 of the time", () => {
    const found = uncertaintyAt(1.05);
    expect(found.endPoints?.lower).toBeCloseTo((found.seconds * 2.05423) / 2.375473, 2);
    expect(found.endPoints?.upper).toBeCloseTo((found.seconds * 2.89009) / 2.375473, 2);
    expect(found.model).toContain("mapped");
  });

  it("counts the wider side, so that U is not too small", () => {
    const found = uncertaintyAt(1.05);
    expect(found.expanded).toBeGreaterThan((found.endPoints?.upper ?? 0) - found.seconds);
    expect(found.expanded).toBeLessThan(1.05 * ((found.endPoints?.upper ?? 0) - found.seconds));
  });

  it("says that there is no upper end where the lower current would not trip", () => {
    const found = uncertaintyAt(1.01);
    expect(found.endPoints?.upper).toBeNull();
    expect(found.model).toContain("too small");
  });
});

describe("the basis", () => {
  it("with a wider current widens U, with a coarser timer too", () => {
    expect(uncertaintyAt(3, { currentPercent: 4 }).expanded).toBeGreaterThan(uncertaintyAt(3).expanded);
    expect(uncertaintyAt(3, { timerSeconds: 1 }).expanded).toBeGreaterThan(uncertaintyAt(3).expanded);
    expect(uncertaintyAt(3, { timerSeconds: 1 }).standard).toBeGreaterThan(1);
  });

  it("with few degrees of freedom for the current has a k above two", () => {
    const found = uncertaintyAt(3, { currentDegreesOfFreedom: 5 });
    expect(found.effectiveDegreesOfFreedom).toBe(5);
    expect(found.k).toBeCloseTo(2.65, 2);
  });

  it("says so where a wide gap, rectangular, makes up most of it", () => {
    const holed = without(sampled(plainTrip), (i) => i < 1200 || i >= 1490);
    const found = readShot(tripSignal(plainTrip, holed), context).uncertainty;
    expect(found?.model).toContain("the detection of the opening dominates and is rectangular");
    // U then reaches past the whole interval: k/sqrt(3) of its half-width.
    expect(found?.expanded).toBeGreaterThan((290 * 0.016667) / 2);
    expect(uncertaintyAt(3).model).not.toContain("dominates");
  });

  it("with no uncertainty of current leaves detection and timer", () => {
    const found = uncertaintyAt(3, { currentPercent: 0 });
    expect(found.budget[0]?.seconds).toBe(0);
    expect(found.standard).toBeGreaterThan(0);
    expect(found.standard).toBeLessThan(0.02);
  });
});
