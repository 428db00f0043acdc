import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { tripSeconds } from "../../src/core/thermal/trip-time.ts";
import { resultMatrixView } from "../../src/lab/result-matrix-view.ts";
import { specimenFit } from "../../src/lab/specimen-fit.ts";
import { RecordedLab } from "./recorded-lab.ts";

let place: RecordedLab;
beforeEach(() => {
  place = new RecordedLab();
});
afterEach(() => place.remove());

/** A day of rest between shots, so that each is cold. */
const day = 86_400;
const model = { tauSeconds: 140, pickup: 1.15 };

describe("specimenFit", () => {
  it("finds the model that a specimen's own shots follow, pooled and for each loading, and says which", () => {
    const specimen = place.receive({ poles: 2, volts: 240 });
    let at = 0;
    for (const [multiple, loading, scatter] of [
      [2, "pole-1", 1.01],
      [2, "pole-1", 0.99],
      [2, "pole-2", 1.015],
      [1.35, "all", 0.99],
      [1.35, "all", 1.012],
      [1.35, "all", 0.985],
    ] as const) {
      at += day;
      place.shot(specimen, { at, multiple, loading, seconds: tripSeconds(model, multiple) * scatter });
    }
    const view = specimenFit(place.lab, specimen);
    expect(view.groups.map((group) => group.loading)).toEqual(["pooled", "all", "pole-1", "pole-2"]);
    const [pooled] = view.groups;
    if (pooled?.fit.estimable !== true || pooled.curve === null) throw new Error("not estimable");
    expect(pooled.shots).toHaveLength(6);
    expect(pooled.fit.pickup).toBeCloseTo(model.pickup, 1);
    expect(Math.abs(pooled.fit.tau / model.tauSeconds - 1)).toBeLessThan(0.1);
    expect(pooled.chosen.timeConstants).toBe(1);
    const { multiples, median, lower, upper } = pooled.curve;
    multiples.forEach((multiple, i) => {
      const low = lower[i] ?? 0;
      const high = upper[i] ?? Number.POSITIVE_INFINITY;
      expect(low).toBeLessThan(median[i] ?? 0);
      expect(high).toBeGreaterThan(median[i] ?? 0);
      if (multiple > 1.3)
        expect(low < tripSeconds(model, multiple) && tripSeconds(model, multiple) < high).toBe(true);
    });
  });

  it("leaves out a latch that stuck, says so, and keeps it in the matrix beside the later pass", () => {
    const specimen = place.receive();
    const stuck = place.shot(specimen, { at: 0, multiple: 2, seconds: null });
    const held = place.shot(specimen, { at: day, multiple: 2, seconds: null });
    const tripped = place.shot(specimen, { at: 2 * day, multiple: 2, seconds: 50 });
    const view = specimenFit(place.lab, specimen);
    expect(view.leftOut.map((one) => one.shot)).toEqual([stuck, held]);
    expect(view.leftOut[0]?.why).toContain(tripped);
    const { parts, multiples, loadings } = resultMatrixView(place.lab, specimen);
    expect({ multiples, loadings }).toEqual({ multiples: [2], loadings: ["pole-1"] });
    expect(parts.map((part) => part.state)).toEqual(["as-found", "exercised"]);
    expect(parts[0]?.cells[0]?.[0]).toMatchObject({ shot: stuck, result: "fail", glyph: "✗", word: "FAIL" });
    expect(parts[0]?.cells[0]?.[0]).toMatchObject({ marginSeconds: null, timeWords: "> 2 min 10 s" });
    const newest = parts[1]?.cells[0]?.[0];
    expect(newest).toMatchObject({ shot: tripped, seconds: 50, expanded: 1, k: 2, marginSeconds: 70 });
    expect(newest?.timeWords).toBe("50.0 ± 1.0 s");
    expect(newest?.earlier.map((one) => one.shot)).toEqual([held]);
  });

  it("has nothing to fit without a trip, and says what is needed", () => {
    const specimen = place.receive();
    const [pooled] = specimenFit(place.lab, specimen).groups;
    expect(pooled).toMatchObject({ fit: { estimable: false }, curve: null });
    expect(() => specimenFit(place.lab, "nobody")).toThrow('there is no specimen "nobody"');
  });
});
