import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createLiveTrace } from "../../web/live/live-trace.ts";

const filled = (amps: readonly number[], drawn: number) => {
  const trace = createLiveTrace(drawn);
  amps.forEach((amp, i) => {
    trace.append([i / 60], [amp]);
  });
  return trace;
};

describe("createLiveTrace()", () => {
  it("draws every sample while there are few", () => {
    const { seconds, amps } = filled([1, 5, 2], 8).thinned();
    expect([...seconds]).toEqual([0, 1 / 60, 2 / 60]);
    expect([...amps]).toEqual([1, 5, 2]);
  });

  it("never draws more than it may, and never loses the highest or the lowest", () => {
    const amps = fc.array(fc.double({ min: 0, max: 1000, noNaN: true }), { minLength: 1, maxLength: 600 });
    fc.assert(
      fc.property(amps, fc.integer({ min: 1, max: 10 }), (values, quarter) => {
        const trace = filled(values, 4 * quarter);
        const drawn = trace.thinned();
        expect(trace.count()).toBe(values.length);
        expect(drawn.seconds.length).toBeLessThanOrEqual(4 * quarter);
        expect(Math.max(...drawn.amps)).toBe(Math.max(...values));
        expect(Math.min(...drawn.amps)).toBe(Math.min(...values));
        for (let i = 1; i < drawn.seconds.length; i++)
          expect(drawn.seconds[i]).toBeGreaterThan(drawn.seconds[i - 1] ?? -1);
      }),
    );
  });

  it("keeps one spike of a two-hour test at 60 samples a second", () => {
    const trace = createLiveTrace(4000);
    const count = 432_000;
    for (let i = 0; i < count; i++) trace.append([i / 60], [i === 123_456 ? 99 : 40]);
    const drawn = trace.thinned();
    expect(drawn.seconds.length).toBeLessThanOrEqual(4000);
    expect(drawn.seconds.length).toBeGreaterThan(1000);
    expect(Math.max(...drawn.amps)).toBe(99);
    expect(trace.last()).toEqual({ seconds: (count - 1) / 60, amps: 40 });
  });

  it("gives the last seconds in full", () => {
    const trace = createLiveTrace(8);
    for (let i = 0; i < 1200; i++) trace.append([i / 64], [i]);
    const tail = trace.tail(10);
    expect(tail.seconds.length).toBe(641);
    expect(tail.amps[640]).toBe(1199);
  });

  it("leaves out a sample that comes late or twice", () => {
    const trace = createLiveTrace(8);
    trace.append([0, 1, 2], [1, 2, 3]);
    trace.append([1, 2, 3], [9, 9, 4]);
    expect([...trace.tail(100).amps]).toEqual([1, 2, 3, 4]);
  });

  it("begins anew after a reset", () => {
    const trace = filled([1, 2, 3, 4, 5, 6, 7], 4);
    trace.reset();
    expect(trace.last()).toBeNull();
    trace.append([0], [7]);
    expect([...trace.thinned().amps]).toEqual([7]);
  });

  it("refuses a number of points whose stretches cannot be joined in pairs", () => {
    expect(() => createLiveTrace(6)).toThrow(
      "points to draw: found 6; a multiple of 4 from 4 on is accepted",
    );
  });
});
