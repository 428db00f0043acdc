/**
 * How one kind of breaker behaves, in units of its rating, so that one profile serves every rating.
 *
 * Heat: the rise of a pole's bimetal above ambient is the sum of two parts, each following the square of the current
 * with a time constant of its own: the bimetal over the case, and the case over ambient. At rated current squared times
 * `pickupMultiple` squared, all poles loaded, the sum settles exactly at the rise at which the pole trips.
 */
export interface BreakerProfile {
  name: string;
  /** What it does, for the person who chooses it. */
  about: string;
  healthy: boolean;
  /** Rated current, where the profile stands for one size only; otherwise the rating is that of the shot. */
  ratedAmps?: number;
  /** Number of poles, where the profile fixes it. */
  poles?: 1 | 2 | 3;
  /** Smallest multiple that ever trips it from heat, all poles loaded, at the calibrated ambient. */
  pickupMultiple: number;
  /** Time at twice rated current, cold, one outer pole alone, as a share of the longest that UL 489 allows. */
  twiceRatedShare: number;
  /** Share of the steady rise that is the case's, all poles loaded. */
  caseShare: number;
  /** Time constant of the case of a breaker of up to 30 A; larger ones are slower. */
  caseSeconds: number;
  /** Share of a pole's own heating that reaches the bimetal of the pole beside it directly. */
  poleCoupling: number;
  calibratedCelsius: number;
  /** Temperature at which a bimetal has moved far enough to trip. */
  tripCelsius: number;
  /** Multiple whose peaks trip at once by magnetism; null if that element is missing. */
  magneticMultiple: number | null;
  /** From the moment a trip element acts until the contacts part. */
  unlatchMilliseconds: number;
  /** Standard deviation of ln of the trip rise from one specimen, or pole, to the next. */
  unitScatter: number;
  /** Standard deviation of ln of the trip rise from one shot to the next. */
  shotScatter: number;
  /** Whether its bimetals can trip it at all. */
  thermalWorks: boolean;
  /** The pole with a bad bimetal, and by what factor its trip rise is too high; null for never. */
  badPole: { pole: 1 | 2 | 3; tripRiseFactor: number | null } | null;
  /** The latch does not move until the handle has been worked this many times; null if it never moves. */
  stuckUntilOperations: number | null;
  /** A demand to trip at a current below this multiple is missed. */
  missesBelowMultiple: number;
  /** Chance that any other demand to trip is missed. */
  missChance: number;
  /** Whether one missed demand jams the latch for good. */
  jamsAfterMiss: boolean;
}

/**
 * An ordinary sound breaker. The 83 K between calibrated ambient and trip are what makers' ambient tables imply (trip
 * current about 6 % lower for 10 K more); the two time constants, the scatter and the coupling are plausible inventions.
 */
export const soundParameters = {
  healthy: true,
  pickupMultiple: 1.15,
  twiceRatedShare: 0.45,
  caseShare: 0.2,
  caseSeconds: 900,
  poleCoupling: 0.03,
  calibratedCelsius: 25,
  tripCelsius: 108,
  magneticMultiple: 10,
  unlatchMilliseconds: 8,
  unitScatter: 0.015,
  shotScatter: 0.01,
  thermalWorks: true,
  badPole: null,
  stuckUntilOperations: 0,
  missesBelowMultiple: 0,
  missChance: 0,
  jamsAfterMiss: false,
} as const satisfies Omit<BreakerProfile, "name" | "about">;
