import type { BreakerProfile } from "./breaker-profile.ts";
import { longestSecondsAtTwiceRated } from "./calibration-limit.ts";

/**
 * The heat equations of one breaker. Temperatures are in units of the steady rise that rated current through all poles
 * would give: a pole carrying m times the rating drives its bimetal towards `bimetalShare` m^2 and the case towards
 * `caseShare` m^2 / poles.
 */
export interface ThermalScale {
  bimetalShare: number;
  caseShare: number;
  poleCoupling: number;
  bimetalSeconds: number;
  caseSeconds: number;
  /** Rise at which each pole trips at the calibrated ambient, before scatter. */
  tripRises: readonly number[];
}

/**
 * Turns a profile, a rating and a number of poles into time constants and trip rises.
 *
 * Each pole is set as a factory sets it: with all poles loaded, all have the same pick-up. The bimetal's time constant
 * follows from the wanted time t at twice the rating, one outer pole alone, by solving
 * a m^2 (1 - exp(-t / tauBimetal)) + (c m^2 / poles) (1 - exp(-t / tauCase)) = tripRise, with m = 2, for tauBimetal.
 *
 * @throws RangeError if the profile would never trip at twice the rating, so that no time constant gives that time
 */
export function thermalScale(profile: BreakerProfile, ratedAmps: number, poles: number): ThermalScale {
  const limitSeconds = longestSecondsAtTwiceRated(ratedAmps);
  const bimetalShare = 1 - profile.caseShare;
  const caseSeconds = profile.caseSeconds * Math.sqrt(limitSeconds / 120);
  const tripRises = Array.from({ length: poles }, (_, pole) => {
    const neighbours = Number(pole > 0) + Number(pole < poles - 1);
    const allLoaded = bimetalShare * (1 + profile.poleCoupling * neighbours) + profile.caseShare;
    return profile.pickupMultiple ** 2 * allLoaded;
  });

  const seconds = profile.twiceRatedShare * limitSeconds;
  const square = 4;
  const fromCase = ((profile.caseShare * square) / poles) * (1 - Math.exp(-seconds / caseSeconds));
  const left = 1 - ((tripRises[0] as number) - fromCase) / (bimetalShare * square);
  if (!(left > 0 && left < 1))
    throw new RangeError(
      `breaker "${profile.name}": with pickupMultiple ${profile.pickupMultiple} and caseShare ${profile.caseShare} no time constant makes one pole alone trip in ${seconds} s at twice the rating; lower one of them`,
    );
  return {
    bimetalShare,
    caseShare: profile.caseShare,
    poleCoupling: profile.poleCoupling,
    bimetalSeconds: -seconds / Math.log(left),
    caseSeconds,
    tripRises,
  };
}
