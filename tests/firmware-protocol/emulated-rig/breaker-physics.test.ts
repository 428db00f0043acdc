import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { breakerByName } from "../../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { longestSecondsAtTwiceRated } from "../../../firmware-protocol/emulated-rig/calibration-limit.ts";
import { breakerOf, exact, secondsToTrip, tripTime } from "./breaker-in-oven.ts";

const ratings = fc.constantFrom(15, 20, 30, 50, 100, 225, 400, 1200);
const poles = fc.constantFrom(1, 2, 3);

describe("BreakerPhysics", () => {
  it("trips sooner at more current", () => {
    fc.assert(
      fc.property(
        ratings,
        poles,
        fc.double({ min: 1.3, max: 6, noNaN: true }),
        fc.double({ min: 1.02, max: 1.5, noNaN: true }),
        (ratedAmps, count, multiple, factor) => {
          const low = tripTime(breakerOf(exact, ratedAmps, count), { multiple });
          const high = tripTime(breakerOf(exact, ratedAmps, count), { multiple: multiple * factor });
          expect(high).toBeLessThan(low);
        },
      ),
      { numRuns: 30 },
    );
  });

  it("trips sooner in hotter air", () => {
    fc.assert(
      fc.property(
        ratings,
        fc.double({ min: -10, max: 40, noNaN: true }),
        fc.double({ min: 1, max: 25, noNaN: true }),
        (ratedAmps, ambientCelsius, more) => {
          const cool = tripTime(breakerOf(exact, ratedAmps, 1), { multiple: 2, ambientCelsius });
          const hot = tripTime(breakerOf(exact, ratedAmps, 1), {
            multiple: 2,
            ambientCelsius: ambientCelsius + more,
          });
          expect(hot).toBeLessThan(cool);
        },
      ),
      { numRuns: 30 },
    );
  });

  it("trips sooner after a load than from cold, and as from cold after a long rest", () => {
    const cold = tripTime(breakerOf(exact, 20, 3), { multiple: 2 });
    const breaker = breakerOf(exact, 20, 3);
    expect(secondsToTrip(breaker, { multiple: 1 })).toBeNull();
    expect(tripTime(breaker, { multiple: 2 })).toBeLessThan(0.5 * cold);
    breaker.rest(60);
    const warm = tripTime(breaker, { multiple: 2 });
    breaker.rest(48 * 3600);
    expect(warm).toBeLessThan(0.9 * cold);
    expect(tripTime(breaker, { multiple: 2 })).toBeCloseTo(cold, 6);
  });

  // First-order limit for short times, DERIVED: t = tau mt^2 / m^2, so t m^2 is constant.
  it("needs the same energy at every high multiple", () => {
    const energies = [12, 16, 24].map(
      (multiple) => tripTime(breakerOf(exact, 20, 1), { multiple, stepSeconds: 0.01 }) * multiple ** 2,
    );
    for (const energy of energies) expect(energy / (energies[0] as number)).toBeCloseTo(1, 1);
    expect((energies[2] as number) / (energies[1] as number)).toBeCloseTo(1, 2);
  });

  // With a single time constant the textbook replica applies: t = tau ln(m^2 / (m^2 - mt^2)), IEC 60255-149 cold curve.
  it("follows the textbook replica where it has no case", () => {
    const bare = { ...exact, caseShare: 0, poleCoupling: 0, pickupMultiple: 1.15 };
    const cold = (multiple: number) => Math.log(multiple ** 2 / (multiple ** 2 - 1.15 ** 2));
    const twice = tripTime(breakerOf(bare, 20, 1), { multiple: 2 });
    expect(twice).toBeCloseTo(0.45 * 120, 6);
    for (const multiple of [1.2, 1.35, 1.5, 3, 6])
      expect(tripTime(breakerOf(bare, 20, 1), { multiple }) / twice).toBeCloseTo(cold(multiple) / cold(2), 4);
    // Hot curve: t = tau ln((m^2 - p^2) / (m^2 - mt^2)) after a long load at p = 0.9.
    const breaker = breakerOf(bare, 20, 1);
    expect(secondsToTrip(breaker, { multiple: 0.9 })).toBeNull();
    const hot = Math.log((4 - 0.81) / (4 - 1.3225));
    expect(tripTime(breaker, { multiple: 2 }) / twice).toBeCloseTo(hot / cold(2), 4);
  });

  it("trips one outer pole alone at twice the rating in the share of the limit that its profile says", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 15, max: 6000 }),
        poles,
        fc.double({ min: 0.1, max: 2, noNaN: true }),
        (ratedAmps, count, twiceRatedShare) => {
          const breaker = breakerOf({ ...exact, twiceRatedShare }, ratedAmps, count);
          const wanted = twiceRatedShare * longestSecondsAtTwiceRated(ratedAmps);
          const seconds = tripTime(breaker, { multiple: 2, loading: "pole-1", stepSeconds: 0.1 });
          // Within a step the rise is taken as a straight line.
          expect(seconds / wanted).toBeCloseTo(1, 4);
        },
      ),
      { numRuns: 40 },
    );
  });

  it("settles below its trip point just below its pick-up, and above it just above", () => {
    fc.assert(
      fc.property(
        ratings,
        poles,
        fc.double({ min: 0.9, max: 1.4, noNaN: true }),
        (ratedAmps, count, pickupMultiple) => {
          const profile = { ...exact, pickupMultiple };
          const held = { longestSeconds: 200_000, stepSeconds: 60 };
          const below = { ...held, multiple: 0.995 * pickupMultiple };
          const above = { ...held, multiple: 1.005 * pickupMultiple };
          expect(secondsToTrip(breakerOf(profile, ratedAmps, count), below)).toBeNull();
          expect(secondsToTrip(breakerOf(profile, ratedAmps, count), above)).not.toBeNull();
        },
      ),
      { numRuns: 30 },
    );
  });

  // Textbook and makers' ambient tables: pick-up goes with sqrt((Ttrip - Ta) / (Ttrip - Tref)), about 6 % for 10 K.
  it("shifts its pick-up with the air as ambient tables have it", () => {
    const pickupAt = (ambientCelsius: number) => {
      let [low, high] = [0.5, 2];
      while (high - low > 1e-4) {
        const multiple = (low + high) / 2;
        const held = { multiple, ambientCelsius, longestSeconds: 400_000, stepSeconds: 100 };
        if (secondsToTrip(breakerOf(exact, 20, 1), held) === null) low = multiple;
        else high = multiple;
      }
      return low;
    };
    const reference = pickupAt(25);
    expect(pickupAt(35) / reference).toBeCloseTo(Math.sqrt(73 / 83), 3);
    expect(1 - pickupAt(35) / reference).toBeCloseTo(0.06, 2);
    expect(pickupAt(-5) / reference).toBeCloseTo(Math.sqrt(113 / 83), 3);
  });

  it("does not care how long its steps are", () => {
    const times = [0.01, 0.1, 1].map((stepSeconds) =>
      tripTime(breakerOf(exact, 50, 3), { multiple: 2, stepSeconds }),
    );
    for (const time of times) expect(time).toBeCloseTo(times[0] as number, 2);
  });

  it("rests as it would in many steps without current", () => {
    const [long, steps] = [breakerOf(exact, 20, 3), breakerOf(exact, 20, 3)];
    for (const breaker of [long, steps]) secondsToTrip(breaker, { multiple: 1.1, longestSeconds: 600 });
    long.rest(500);
    for (let i = 0; i < 1000; i += 1) steps.heat(0, 0.5, 25);
    expect(long.heatShare).toBeCloseTo(steps.heatShare, 10);
    expect(long.heatShare).toBeGreaterThan(0.05);
  });

  it("warms a pole beside a loaded one, so that it then trips sooner", () => {
    const cold = tripTime(breakerOf(exact, 20, 3), { multiple: 2, loading: "pole-2" });
    const breaker = breakerOf(exact, 20, 3);
    secondsToTrip(breaker, { multiple: 1.1, loading: "pole-1", longestSeconds: 3600 });
    expect(tripTime(breaker, { multiple: 2, loading: "pole-2" })).toBeLessThan(0.97 * cold);
    expect(tripTime(breakerOf(exact, 20, 3), { multiple: 2, loading: "all" })).toBeLessThan(cold);
  });

  it("scatters from specimen to specimen and from shot to shot by a few per cent", () => {
    const sound = { ...exact, unitScatter: 0.015, shotScatter: 0.01 };
    const units = Array.from({ length: 60 }, (_, seed) =>
      tripTime(breakerOf(sound, 20, 1, seed), { multiple: 2 }),
    );
    const one = breakerOf(sound, 20, 1);
    const shots = Array.from({ length: 60 }, () => {
      one.rest(1e6);
      return tripTime(one, { multiple: 2 });
    });
    for (const times of [units, shots]) {
      const logs = times.map(Math.log);
      const middle = logs.reduce((sum, log) => sum + log, 0) / logs.length;
      const spread = Math.sqrt(logs.reduce((sum, log) => sum + (log - middle) ** 2, 0) / (logs.length - 1));
      expect(spread).toBeGreaterThan(0.008);
      expect(spread).toBeLessThan(0.05);
    }
  });

  it("tells a missed demand once, and again only after it has cooled", () => {
    const breaker = breakerOf(exact, 20, 1);
    breaker.beginShot("all");
    const demands = (seconds: number, multiple: number) => {
      let count = 0;
      for (let i = 0; i < seconds; i += 1) if (breaker.heat(20 * multiple, 1, 25) !== null) count += 1;
      return count;
    };
    expect(demands(600, 2)).toBe(1);
    expect(demands(600, 0)).toBe(0);
    expect(demands(600, 2)).toBe(1);
  });

  it("tells a missed demand again when its handle was worked while it is hot", () => {
    const breaker = breakerOf(breakerByName("jams-until-exercised"), 20, 1);
    expect(secondsToTrip(breaker, { multiple: 2, longestSeconds: 300 })).toBeNull();
    breaker.exerciseHandle(3);
    expect(secondsToTrip(breaker, { multiple: 2, longestSeconds: 300 })).toBe(0);
  });

  it("resets by its handle after a trip, and counts that as working it", () => {
    const breaker = breakerOf(exact, 20, 1);
    tripTime(breaker, { multiple: 3 });
    expect(breaker.closed).toBe(false);
    breaker.beginShot("all");
    expect(breaker.closed).toBe(true);
    expect(breaker.operations).toBe(1);
    breaker.exerciseHandle(3);
    expect(breaker.operations).toBe(4);
  });

  it.each([
    [() => breakerOf(exact, 20, 4), "poles must be 1, 2 or 3, found 4"],
    [() => breakerOf(exact, 0, 1), "above 0 A and at most 10000 A, found 0"],
    [() => breakerOf(exact, 20, 1).beginShot("pole-2"), "pole-2 cannot be loaded: the breaker has 1 pole(s)"],
    [() => breakerOf(exact, 20, 1).exerciseHandle(1.5), "a whole number of times from 0 up, found 1.5"],
    [() => breakerOf(exact, 20, 1).rest(-1), "a rest must last 0 s or more, found -1"],
    [
      () => breakerOf({ ...exact, pickupMultiple: 2.5 }, 20, 1),
      "no time constant makes one pole alone trip in 54 s",
    ],
  ])("refuses what cannot be (%#)", (act, words) => {
    expect(act).toThrow(words);
  });
});
