import { describe, expect, it } from "vitest";
import { breakerByName, builtInBreakers } from "../../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { longestSecondsAtTwiceRated } from "../../../firmware-protocol/emulated-rig/calibration-limit.ts";
import { parseBreakerFile } from "../../../firmware-protocol/emulated-rig/parse-breaker-file.ts";
import type { WireLoading } from "../../../firmware-protocol/messages.ts";
import { breakerOf, secondsToTrip } from "./breaker-in-oven.ts";

type Point = 1 | 1.35 | 2;
type Finding = "passes" | "too early" | "too late";

// UL 489 135 % calibration: 1 h up to 50 A, 2 h above; the hour is confirmed, the two hours are from memory.
const limitSeconds = (point: Point, ratedAmps: number) => {
  if (point === 2) return longestSecondsAtTwiceRated(ratedAmps);
  return ratedAmps <= 50 ? 3600 : 7200;
};

/** What a test at one point finds of a cold breaker of this kind. */
function finding(
  name: string,
  ratedAmps: number,
  poles: number,
  point: Point,
  loading: WireLoading,
): Finding {
  const breaker = breakerOf(breakerByName(name), ratedAmps, poles, 5);
  const longestSeconds = point === 1 ? 4 * 3600 : limitSeconds(point, ratedAmps);
  const seconds = secondsToTrip(breaker, { multiple: point, loading, longestSeconds, stepSeconds: 4 });
  if (point === 1) return seconds === null ? "passes" : "too early";
  return seconds === null ? "too late" : "passes";
}

const ratings = [15, 20, 30, 35, 50, 60, 100, 125, 200, 225, 250, 400];
const cases = ratings.flatMap((ratedAmps) =>
  [1, 2, 3].flatMap((poles) => {
    const alone = Array.from({ length: poles }, (_, pole) => `pole-${pole + 1}` as WireLoading);
    return [...alone, "all" as const].map((loading) => ({ ratedAmps, poles, loading }));
  }),
);
type Case = (typeof cases)[number];

const passesAll = () => ({ 1: "passes", 1.35: "passes", 2: "passes" }) as const;
const never = () => ({ 1: "passes", 1.35: "too late", 2: "too late" }) as const;
const hurtsPoleTwo = ({ poles, loading }: Case) => {
  const badAlone = poles === 1 || loading === "pole-2";
  return badAlone ? never() : passesAll();
};

/** What `about` promises, per case. A breaker that decides by chance is tested apart. */
const promises: Readonly<Record<string, (one: Case) => Readonly<Record<Point, Finding>>>> = {
  sound: passesAll,
  "sound-quick": passesAll,
  "sound-slow": passesAll,
  "never-trips": never,
  "jams-until-exercised": never,
  "jams-after-first-miss": () => ({ 1: "passes", 1.35: "too late", 2: "passes" }),
  "one-pole-late": hurtsPoleTwo,
  "one-pole-dead": hurtsPoleTwo,
  "trips-early": () => ({ 1: "too early", 1.35: "passes", 2: "passes" }),
  "trips-late": never,
  "magnetic-only": never,
};

describe("built-in breakers", () => {
  it("have a promise each, and names of their own", () => {
    const names = builtInBreakers.map((breaker) => breaker.name);
    expect(new Set(names).size).toBe(names.length);
    expect([...Object.keys(promises), "sticks-now-and-then"].sort()).toEqual([...names].sort());
    expect(builtInBreakers.filter((breaker) => breaker.healthy).map((breaker) => breaker.name)).toEqual([
      "sound",
      "sound-quick",
      "sound-slow",
    ]);
  });

  it.each(Object.keys(promises))("%s does what is said of it at every test point and rating", (name) => {
    const promise = promises[name] as (one: Case) => Readonly<Record<Point, Finding>>;
    const broken = cases.flatMap((one) =>
      ([1, 1.35, 2] as const).flatMap((point) => {
        const found = finding(name, one.ratedAmps, one.poles, point, one.loading);
        return found === promise(one)[point] ? [] : [{ ...one, point, found }];
      }),
    );
    expect(broken).toEqual([]);
  });

  it("sound breakers pass at every class of rating up to 6000 A, every specimen", () => {
    const all = [15, 30, 50, 100, 150, 225, 400, 600, 800, 1000, 1200, 1600, 2000, 2500, 5000, 6000];
    for (const name of ["sound", "sound-quick", "sound-slow"])
      for (const ratedAmps of all)
        for (const seed of [1, 2, 3, 4]) {
          const seconds = (point: Point, loading: WireLoading) =>
            secondsToTrip(breakerOf(breakerByName(name), ratedAmps, 3, seed), {
              multiple: point,
              loading,
              stepSeconds: 10,
              longestSeconds: point === 1 ? 40_000 : limitSeconds(point, ratedAmps),
            });
          expect([name, ratedAmps, seconds(1, "all")]).toEqual([name, ratedAmps, null]);
          for (const loading of ["pole-2", "all"] as const) {
            expect([name, ratedAmps, seconds(1.35, loading)]).not.toContain(null);
            expect([name, ratedAmps, seconds(2, loading)]).not.toContain(null);
          }
        }
  });

  it("trips of a sound breaker lie well inside the limit, those of sound-slow near it", () => {
    const shareAtTwice = (name: string) => {
      const seconds = secondsToTrip(breakerOf(breakerByName(name), 20, 1), { multiple: 2 }) ?? Number.NaN;
      return seconds / 120;
    };
    expect(shareAtTwice("sound")).toBeGreaterThan(0.35);
    expect(shareAtTwice("sound")).toBeLessThan(0.6);
    expect(shareAtTwice("sound-slow")).toBeGreaterThan(0.8);
    expect(shareAtTwice("sound-slow")).toBeLessThan(1);
    expect(shareAtTwice("sound-quick")).toBeLessThan(0.3);
  });

  it("jams-until-exercised trips after its handle was worked three times", () => {
    const breaker = breakerOf(breakerByName("jams-until-exercised"), 20, 1);
    expect(secondsToTrip(breaker, { multiple: 2, longestSeconds: 240 })).toBeNull();
    breaker.exerciseHandle(2);
    breaker.rest(86_400);
    expect(secondsToTrip(breaker, { multiple: 2, longestSeconds: 240 })).toBeNull();
    breaker.exerciseHandle(1);
    breaker.rest(86_400);
    expect(secondsToTrip(breaker, { multiple: 2, longestSeconds: 120 })).not.toBeNull();
  });

  it("jams-after-first-miss holds at 200 % once it has missed, however its handle is worked", () => {
    const breaker = breakerOf(breakerByName("jams-after-first-miss"), 20, 1);
    expect(secondsToTrip(breaker, { multiple: 1.35 })).toBeNull();
    breaker.exerciseHandle(10);
    breaker.rest(86_400);
    expect(secondsToTrip(breaker, { multiple: 2, longestSeconds: 600 })).toBeNull();
  });

  it("sticks-now-and-then misses about one demand in three", () => {
    const breaker = breakerOf(breakerByName("sticks-now-and-then"), 20, 1);
    const missed = Array.from({ length: 300 }, () => {
      breaker.rest(86_400);
      return secondsToTrip(breaker, { multiple: 3, longestSeconds: 60 }) === null;
    }).filter(Boolean).length;
    expect(missed).toBeGreaterThan(70);
    expect(missed).toBeLessThan(130);
  });

  it("refuses an unknown name with the names there are", () => {
    expect(() => breakerByName("snd")).toThrow('no built-in breaker "snd"; accepted: sound, sound-quick,');
  });
});

describe("parseBreakerFile", () => {
  it("takes what is given and the rest from a sound breaker, or from the one it is based on", () => {
    const mine = parseBreakerFile({
      name: "mine",
      about: "B",
      healthy: false,
      pickupMultiple: 1.3,
      poles: 2,
      ratedAmps: 60,
    });
    expect(mine).toEqual({
      ...breakerByName("sound"),
      name: "mine",
      about: "B",
      healthy: false,
      pickupMultiple: 1.3,
      poles: 2,
      ratedAmps: 60,
    });
    expect(parseBreakerFile({ name: "worse", basedOn: "trips-late", twiceRatedShare: 3 })).toEqual({
      ...breakerByName("trips-late"),
      name: "worse",
      twiceRatedShare: 3,
    });
  });

  it("takes every built-in breaker written out", () => {
    for (const breaker of builtInBreakers)
      expect(parseBreakerFile(JSON.parse(JSON.stringify(breaker)))).toEqual(breaker);
  });

  it.each([
    [[], "must hold one JSON object, found []"],
    [null, "must hold one JSON object, found null"],
    [{}, "name is missing"],
    [{ name: "" }, 'name is ""; accepted: a text of 1 to 64 characters'],
    [{ name: "a", speed: 1 }, 'unknown field "speed"; accepted: pickupMultiple,'],
    [{ name: "a", pickupMultiple: "1.2" }, 'pickupMultiple is "1.2"; accepted: a number from 0.5 to 1.8'],
    [{ name: "a", missChance: 1.1 }, "missChance is 1.1; accepted: a number from 0 to 1"],
    [{ name: "a", poles: 4 }, "poles is 4; accepted: 1, 2 or 3"],
    [{ name: "a", ratedAmps: 0 }, "ratedAmps is 0; accepted: a number from 0.1 to 10000"],
    [{ name: "a", healthy: 1 }, "healthy is 1; accepted: true or false"],
    [{ name: "a", magneticMultiple: 1 }, "magneticMultiple is 1; accepted: null or a number from 1.5 to 100"],
    [{ name: "a", stuckUntilOperations: -1 }, "stuckUntilOperations is -1; accepted: null or a whole number"],
    [
      { name: "a", badPole: { pole: 4, tripRiseFactor: 2 } },
      'badPole is {"pole":4,"tripRiseFactor":2}; accepted: null or',
    ],
    [{ name: "a", badPole: { pole: 1 } }, "badPole is"],
    [{ name: "a", basedOn: "sand" }, 'no built-in breaker "sand"'],
    [{ name: "a", tripCelsius: 60 }, "tripCelsius is 60; accepted: a number from 65 to 300"],
    [{ name: "a", pickupMultiple: 1.8, caseShare: 0.6 }, "no time constant"],
  ])("refuses %j", (json, words) => {
    expect(() => parseBreakerFile(json)).toThrow(words);
  });
});
