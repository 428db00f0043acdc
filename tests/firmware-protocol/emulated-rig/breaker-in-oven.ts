import { BreakerPhysics } from "../../../firmware-protocol/emulated-rig/breaker-physics.ts";
import type { BreakerProfile } from "../../../firmware-protocol/emulated-rig/breaker-profile.ts";
import { soundParameters } from "../../../firmware-protocol/emulated-rig/breaker-profile.ts";
import { SeededRandom } from "../../../firmware-protocol/emulated-rig/seeded-random.ts";
import type { WireLoading } from "../../../firmware-protocol/messages.ts";

/** A sound breaker that does not scatter, so that laws hold exactly. */
export const exact: BreakerProfile = {
  ...soundParameters,
  name: "exact",
  about: "",
  unitScatter: 0,
  shotScatter: 0,
};

export function breakerOf(
  profile: BreakerProfile,
  ratedAmps: number,
  poles: number,
  seed = 1,
): BreakerPhysics {
  return new BreakerPhysics(profile, ratedAmps, poles, SeededRandom.stream(seed, "breaker"));
}

export interface HeldCurrent {
  multiple: number;
  loading?: WireLoading;
  ambientCelsius?: number;
  longestSeconds?: number;
  stepSeconds?: number;
}

/** Holds a current through a breaker. @returns seconds until its latch lets go by heat, or null if it holds */
export function secondsToTrip(breaker: BreakerPhysics, held: HeldCurrent): number | null {
  const { multiple, loading = "all", ambientCelsius = 25, longestSeconds = 7200, stepSeconds = 0.5 } = held;
  breaker.beginShot(loading);
  for (let step = 0; step * stepSeconds < longestSeconds; step += 1) {
    const into = breaker.heat(multiple * breaker.ratedAmps, stepSeconds, ambientCelsius);
    if (into !== null && breaker.tryToTrip(multiple).released) {
      breaker.open();
      return step * stepSeconds + into;
    }
  }
  return null;
}

/** As `secondsToTrip`, for a breaker that must trip. */
export function tripTime(breaker: BreakerPhysics, held: HeldCurrent): number {
  const seconds = secondsToTrip(breaker, held);
  if (seconds === null) throw new Error(`did not trip at ${held.multiple} times the rating`);
  return seconds;
}
