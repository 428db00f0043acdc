import { describe, expect, it } from "vitest";
import { cycleMeans, halfCycleRms } from "../../../src/core/signal/half-cycle-rms.ts";
import { onsetTransient } from "../../../src/core/signal/onset-transient.ts";

const w = 2 * Math.PI * 60;
/** Values of a function of time at 12 kHz: 100 in a half cycle of 60 Hz. */
const at12kHz = (seconds: number, of: (time: number) => number) => ({
  values: Array.from({ length: Math.round(seconds * 12_000) + 1 }, (_, i) => of(i / 12_000)),
  stepSeconds: 1 / 12_000,
});

describe("half-cycle RMS against closed forms", () => {
  it("a sine has A/sqrt(2) in each half cycle", () => {
    const found = halfCycleRms(
      at12kHz(0.1, (t) => 40 * Math.SQRT2 * Math.sin(w * t)),
      60,
    );
    expect(found).toHaveLength(12);
    for (const amps of found) expect(amps).toBeCloseTo(40, 6);
  });

  it("a sine has it from whatever phase the windows begin at, though they cut between values", () => {
    for (const start of [0, 0.001, 0.00123, 0.0077]) {
      for (const amps of halfCycleRms(
        at12kHz(0.1, (t) => 40 * Math.SQRT2 * Math.sin(w * t + 0.7)),
        60,
        start,
      )) {
        expect(Math.abs(amps / 40 - 1)).toBeLessThan(2e-4);
      }
    }
  });

  it("an offset sine has sqrt(A^2/2 + d^2 +- 4Ad/pi), one sign then the other", () => {
    const [a, d] = [50, 12];
    const found = halfCycleRms(
      at12kHz(0.05, (t) => a * Math.sin(w * t) + d),
      60,
    );
    const form = (sign: number) => Math.sqrt((a * a) / 2 + d * d + (sign * 4 * a * d) / Math.PI);
    for (const [i, amps] of found.entries()) expect(amps).toBeCloseTo(form(i % 2 === 0 ? 1 : -1), 2);
  });

  it("a half cycle that begins at angle phi has A sqrt((1 - phi/pi + sin(2 phi)/(2 pi))/2)", () => {
    const phi = (2 / 5) * Math.PI;
    const found = halfCycleRms(
      at12kHz(0.03, (t) => (w * t < phi ? 0 : 10 * Math.sin(w * t))),
      60,
    );
    const form = 10 * Math.sqrt((1 - phi / Math.PI + Math.sin(2 * phi) / (2 * Math.PI)) / 2);
    // The jump falls on a value; the trapezoid before it counts half a step of it.
    expect(Math.abs((found[0] ?? 0) / form - 1)).toBeLessThan(0.01);
    expect(found[1]).toBeCloseTo(10 / Math.SQRT2, 6);
  });

  it("fifty hertz has windows of ten milliseconds", () => {
    const found = halfCycleRms(
      at12kHz(0.1, (t) => Math.sin(2 * Math.PI * 50 * t)),
      50,
    );
    expect(found).toHaveLength(10);
    for (const amps of found) expect(amps).toBeCloseTo(Math.SQRT1_2, 6);
  });

  it("cannot say anything of less than half a cycle", () => {
    expect(halfCycleRms(at12kHz(0.008, Math.sin), 60)).toEqual([]);
    expect(halfCycleRms({ values: [], stepSeconds: 1e-4 }, 60)).toEqual([]);
    expect(halfCycleRms({ values: [1], stepSeconds: 1e-4 }, 60)).toEqual([]);
  });

  it("refuses too few values in a half cycle, and a start outside", () => {
    expect(() => halfCycleRms({ values: [1, 2, 3], stepSeconds: 0.004 }, 60)).toThrow("four values");
    expect(() => halfCycleRms(at12kHz(0.1, Math.sin), 60, 0.2)).toThrow("0.2 s");
    expect(() => halfCycleRms(at12kHz(0.1, Math.sin), 0)).toThrow("frequency");
    expect(() => halfCycleRms({ values: [1], stepSeconds: 0 }, 60)).toThrow("step");
  });
});

describe("cycle means", () => {
  it("find the offset of a sine to a part in a million", () => {
    for (const mean of cycleMeans(
      at12kHz(0.1, (t) => 50 * Math.sin(w * t + 1) - 7.5),
      60,
    )) {
      expect(mean).toBeCloseTo(-7.5, 5);
    }
  });

  it("follow a decaying offset: mean of d exp(-t/T) over a cycle", () => {
    const [d, decay] = [30, 0.02];
    const found = cycleMeans(
      at12kHz(0.1, (t) => 50 * Math.sin(w * t) + d * Math.exp(-t / decay)),
      60,
    );
    const cycle = 1 / 60;
    for (const [i, mean] of found.entries()) {
      const form = ((d * decay) / cycle) * Math.exp((-i * cycle) / decay) * (1 - Math.exp(-cycle / decay));
      expect(Math.abs(mean - form)).toBeLessThan(1e-3);
    }
  });
});

describe("onset transient", () => {
  // Closing a circuit with X/R: i = A (sin(wt + phi) - sin(phi) exp(-t/T)), here fully displaced.
  const raw = at12kHz(0.12, (t) => {
    const on = t - 0.01;
    return on < 0 ? 0 : 40 * Math.SQRT2 * (-Math.cos(w * on) + Math.exp(-on / 0.03));
  });
  const found = onsetTransient(raw, 60, 0.01, 40);

  it("has the peak of the displaced first loop, and an offset that dies away", () => {
    expect(found.peakAmps).toBeGreaterThan(1.6 * 40 * Math.SQRT2);
    expect(found.peakAmps).toBeLessThan(2 * 40 * Math.SQRT2);
    expect(found.dcOffsetAmps).toHaveLength(5);
    const sizes = found.dcOffsetAmps;
    for (const [i, size] of sizes.entries()) if (i > 0) expect(size).toBeLessThan(sizes[i - 1] ?? 0);
    expect(found.halfCycleAmps).toHaveLength(10);
    expect(found.halfCycleAmps[0]).toBeGreaterThan(40);
  });

  it("ramps in the first half cycle where it starts at full current, later where it rises slowly", () => {
    expect(found.rampSeconds).toBeCloseTo(1 / 120, 9);
    const slow = at12kHz(0.2, (t) => 40 * Math.SQRT2 * Math.min(1, t / 0.05) * Math.sin(w * t));
    expect(onsetTransient(slow, 60, 0, 40).rampSeconds).toBeGreaterThan(0.04);
    expect(onsetTransient(slow, 60, 0, 80).rampSeconds).toBeNull();
  });
});
