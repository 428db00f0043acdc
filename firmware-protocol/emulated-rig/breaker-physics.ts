import type { WireLoading } from "../messages.ts";
import type { BreakerProfile } from "./breaker-profile.ts";
import type { SeededRandom } from "./seeded-random.ts";
import { type ThermalScale, thermalScale } from "./thermal-scale.ts";

/** How a demand to trip ended: the seconds until the contacts part, or nothing. */
export type TripAttempt = { released: true; unlatchSeconds: number } | { released: false };

/**
 * One breaker with its heat, its latch and its history. It keeps them from shot to shot: it stays warm, cools while it
 * rests, and a latch that jammed stays jammed.
 *
 * Steps are exact for a current that is constant over the step, so that their length does not matter.
 */
export class BreakerPhysics {
  readonly profile: BreakerProfile;
  readonly ratedAmps: number;
  readonly poles: number;
  readonly #random: SeededRandom;
  readonly #scale: ThermalScale;
  /** Trip rise of each pole of this very specimen; infinite for a dead one. */
  readonly #tripRises: number[];
  readonly #bimetals: Float64Array;
  readonly #drives: Float64Array;
  readonly #magneticScatter: number;
  #case = 0;
  #loaded: boolean[];
  #shotScatter = 1;
  #pressing = false;
  #jammed = false;
  #closed = true;
  #operations = 0;
  #stepSeconds = Number.NaN;
  #bimetalKept = 1;
  #caseKept = 1;

  /**
   * @param profile what kind of breaker it is
   * @param ratedAmps its rated current
   * @param poles 1, 2 or 3
   * @param random draws what tells this specimen from its siblings, and one shot from the next
   * @throws RangeError for a rating or a number of poles that cannot be
   */
  constructor(profile: BreakerProfile, ratedAmps: number, poles: number, random: SeededRandom) {
    if (![1, 2, 3].includes(poles)) throw new RangeError(`poles must be 1, 2 or 3, found ${poles}`);
    this.profile = profile;
    this.ratedAmps = ratedAmps;
    this.poles = poles;
    this.#random = random;
    this.#scale = thermalScale(profile, ratedAmps, poles);
    const badIndex = profile.badPole === null ? -1 : Math.min(profile.badPole.pole, poles) - 1;
    this.#tripRises = this.#scale.tripRises.map((rise, pole) => {
      const scattered = rise * random.scatter(profile.unitScatter);
      if (!profile.thermalWorks) return Number.POSITIVE_INFINITY;
      if (pole !== badIndex) return scattered;
      return scattered * (profile.badPole?.tripRiseFactor ?? Number.POSITIVE_INFINITY);
    });
    this.#magneticScatter = random.scatter(0.03);
    this.#bimetals = new Float64Array(poles);
    this.#drives = new Float64Array(poles);
    this.#loaded = Array.from({ length: poles }, () => true);
  }

  /** Whether its contacts are closed. */
  get closed(): boolean {
    return this.#closed;
  }

  /** How often its handle was worked since it was taken in, resetting after a trip included. */
  get operations(): number {
    return this.#operations;
  }

  /** Hottest bimetal's rise above ambient as a share of the rise at which it trips at the calibrated ambient. */
  get heatShare(): number {
    return Math.max(
      ...this.#bimetals.map((rise, pole) => (rise + this.#case) / (this.#scale.tripRises[pole] as number)),
    );
  }

  /** Works the handle to and fro, ending closed. */
  exerciseHandle(times: number): void {
    if (!Number.isInteger(times) || times < 0)
      throw new RangeError(`the handle can be worked a whole number of times from 0 up, found ${times}`);
    this.#operations += times;
    if (times > 0) this.#pressing = false;
    this.#closed = true;
  }

  /** Lets it cool without current for any number of seconds. */
  rest(seconds: number): void {
    if (!(seconds >= 0)) throw new RangeError(`a rest must last 0 s or more, found ${seconds}`);
    const kept = Math.exp(-seconds / this.#scale.bimetalSeconds);
    for (let pole = 0; pole < this.poles; pole += 1)
      this.#bimetals[pole] = (this.#bimetals[pole] as number) * kept;
    this.#case *= Math.exp(-seconds / this.#scale.caseSeconds);
  }

  /** Prepares for a shot: closes the handle if it tripped, and draws this shot's scatter. */
  beginShot(loading: WireLoading): void {
    if (!this.#closed) this.exerciseHandle(1);
    const only = loading === "all" ? null : Number(loading.slice("pole-".length)) - 1;
    if (only !== null && only >= this.poles)
      throw new RangeError(`${loading} cannot be loaded: the breaker has ${this.poles} pole(s)`);
    this.#loaded = this.#loaded.map((_, pole) => only === null || pole === only);
    this.#shotScatter = this.#random.scatter(this.profile.shotScatter);
  }

  /** Instantaneous amperes whose peaks trip the magnetic element in this shot; infinite if there is none. */
  get magneticPeakAmps(): number {
    const { magneticMultiple } = this.profile;
    if (magneticMultiple === null) return Number.POSITIVE_INFINITY;
    return Math.SQRT2 * magneticMultiple * this.ratedAmps * this.#magneticScatter * this.#shotScatter;
  }

  /**
   * Lets a true RMS current flow for a time.
   *
   * @returns seconds into this step at which a bimetal demanded to trip, or null. One demand is told once; the next
   *   comes only after the bimetal has cooled away from the latch.
   */
  heat(rmsAmps: number, seconds: number, ambientCelsius: number): number | null {
    if (seconds !== this.#stepSeconds) {
      this.#stepSeconds = seconds;
      this.#bimetalKept = Math.exp(-seconds / this.#scale.bimetalSeconds);
      this.#caseKept = Math.exp(-seconds / this.#scale.caseSeconds);
    }
    const { bimetalShare, caseShare, poleCoupling } = this.#scale;
    const { tripCelsius, calibratedCelsius } = this.profile;
    const square = (rmsAmps / this.ratedAmps) ** 2;
    const reach = (tripCelsius - ambientCelsius) / (tripCelsius - calibratedCelsius);
    const own = this.#drives;
    let loadedPoles = 0;
    for (let pole = 0; pole < this.poles; pole += 1) {
      own[pole] = this.#loaded[pole] === true ? bimetalShare * square : 0;
      if (this.#loaded[pole] === true) loadedPoles += 1;
    }
    const caseBefore = this.#case;
    const caseDrive = (caseShare * square * loadedPoles) / this.poles;
    this.#case = caseDrive + (caseBefore - caseDrive) * this.#caseKept;

    let demandAt: number | null = null;
    let cool = true;
    for (let pole = 0; pole < this.poles; pole += 1) {
      const beside = (pole > 0 ? (own[pole - 1] as number) : 0) + (own[pole + 1] ?? 0);
      const drive = (own[pole] as number) + poleCoupling * beside;
      const before = this.#bimetals[pole] as number;
      const after = drive + (before - drive) * this.#bimetalKept;
      this.#bimetals[pole] = after;
      const trip = (this.#tripRises[pole] as number) * this.#shotScatter * reach;
      const from = before + caseBefore;
      const to = after + this.#case;
      if (to >= releaseShare * trip) cool = false;
      if (to < trip || this.#pressing) continue;
      // Within one cycle the rise is a straight line to far better than the timer resolves.
      const into = from >= trip ? 0 : (seconds * (trip - from)) / (to - from);
      if (demandAt === null || into < demandAt) demandAt = into;
    }
    if (demandAt !== null) this.#pressing = true;
    else if (cool) this.#pressing = false;
    return demandAt;
  }

  /** A trip element presses on the latch while this multiple of the rating flows: does the latch let go? */
  tryToTrip(multiple: number): TripAttempt {
    const { stuckUntilOperations, missesBelowMultiple, missChance, jamsAfterMiss } = this.profile;
    const stuck = stuckUntilOperations === null || this.#operations < stuckUntilOperations;
    const missed = multiple < missesBelowMultiple || this.#random.chance(missChance);
    if (stuck || this.#jammed || missed) {
      this.#jammed ||= missed && jamsAfterMiss;
      return { released: false };
    }
    const unlatchSeconds = (this.profile.unlatchMilliseconds / 1000) * this.#random.scatter(0.1);
    return { released: true, unlatchSeconds };
  }

  /** Its contacts have parted for good. */
  open(): void {
    this.#closed = false;
  }
}

/** A bimetal that has cooled below this share of its trip rise has let go of the latch. */
const releaseShare = 0.9;
