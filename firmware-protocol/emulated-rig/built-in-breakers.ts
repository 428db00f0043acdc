import { type BreakerProfile, soundParameters } from "./breaker-profile.ts";

const faulty = { ...soundParameters, healthy: false } as const;

/** The breakers that the rig knows by name: first the healthy ones, then one for each fault. All are invented. */
export const builtInBreakers: readonly BreakerProfile[] = [
  {
    ...soundParameters,
    name: "sound",
    about: "Holds its rating and trips in about half the time allowed.",
  },
  {
    ...soundParameters,
    name: "sound-quick",
    about: "Sound with a warm temper: trips in about a quarter of the time allowed, yet holds its rating.",
    pickupMultiple: 1.1,
    twiceRatedShare: 0.25,
  },
  {
    ...soundParameters,
    name: "sound-slow",
    about: "Sound, but only just: at 200 % it needs about nine tenths of the time allowed.",
    pickupMultiple: 1.12,
    twiceRatedShare: 0.88,
    unitScatter: 0.008,
    shotScatter: 0.006,
  },
  {
    ...faulty,
    name: "never-trips",
    about: "The latch never lets go: no current trips it, fast or slow.",
    stuckUntilOperations: null,
  },
  {
    ...faulty,
    name: "jams-until-exercised",
    about: "Stuck as found; works like a sound one after its handle was worked 3 times.",
    stuckUntilOperations: 3,
  },
  {
    ...faulty,
    name: "jams-after-first-miss",
    about:
      "Misses slow overloads below 160 %, and once it has missed, no current trips it again. Trips if 200 % is the first it sees.",
    missesBelowMultiple: 1.6,
    jamsAfterMiss: true,
  },
  {
    ...faulty,
    name: "sticks-now-and-then",
    about: "The latch misses one demand to trip in three, at random.",
    missChance: 1 / 3,
  },
  {
    ...faulty,
    name: "one-pole-late",
    about:
      "The bimetal of pole 2 (pole 1 of a single pole) acts too late: over the limit at 200 %, never at 135 %, when that pole is alone.",
    badPole: { pole: 2, tripRiseFactor: 2 },
  },
  {
    ...faulty,
    name: "one-pole-dead",
    about: "The bimetal of pole 2 (pole 1 of a single pole) never acts; the other poles are sound.",
    badPole: { pole: 2, tripRiseFactor: null },
  },
  {
    ...faulty,
    name: "trips-early",
    about: "Trips while it carries no more than its rating.",
    pickupMultiple: 0.85,
    twiceRatedShare: 0.2,
  },
  {
    ...faulty,
    name: "trips-late",
    about:
      "Has drifted upwards: at 200 % it needs about one and a half times the time allowed, at 135 % it holds.",
    pickupMultiple: 1.45,
    twiceRatedShare: 1.5,
  },
  {
    ...faulty,
    name: "magnetic-only",
    about: "The bimetals are dead; only about ten times the rating trips it, at once.",
    thermalWorks: false,
  },
];

/**
 * The built-in breaker of that name.
 *
 * @throws RangeError for any other name, with the names there are
 */
export function breakerByName(name: string): BreakerProfile {
  const found = builtInBreakers.find((breaker) => breaker.name === name);
  if (found !== undefined) return found;
  const names = builtInBreakers.map((breaker) => breaker.name).join(", ");
  throw new RangeError(`there is no built-in breaker "${name}"; accepted: ${names}`);
}
