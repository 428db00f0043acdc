import { BreakerPhysics } from "./breaker-physics.ts";
import type { BreakerProfile } from "./breaker-profile.ts";
import { SeededRandom } from "./seeded-random.ts";

/** Number of poles of a breaker whose profile and mounting leave it open. */
const usualPoles = 3;

/**
 * One specimen, as handed out by `EmulatedRig.mount`. It keeps its heat, its latch and its history while it lies on the
 * shelf, and cools there on the rig's clock. Mount it again to go on with it.
 */
export class MountedBreaker {
  readonly profile: BreakerProfile;
  readonly poles: number;
  readonly #fixedAmps: number | null;
  readonly #seed: number;
  readonly #label: string;
  #physics: BreakerPhysics | null = null;
  #asOfSeconds = 0;
  #operationsBefore = 0;

  /**
   * @param profile what kind of breaker it is
   * @param options what the profile leaves open; without `ratedAmps` the rating is that of the first shot
   * @param seed with `label`, decides what tells this specimen from its siblings
   * @throws RangeError where the options contradict the profile
   */
  constructor(
    profile: BreakerProfile,
    options: { ratedAmps?: number; poles?: number },
    seed: number,
    label: string,
  ) {
    for (const key of ["ratedAmps", "poles"] as const)
      if (profile[key] !== undefined && options[key] !== undefined && profile[key] !== options[key])
        throw new RangeError(
          `breaker "${profile.name}" has ${key} ${profile[key]}; found ${options[key]} where it was to be mounted`,
        );
    this.profile = profile;
    this.poles = profile.poles ?? options.poles ?? usualPoles;
    this.#fixedAmps = profile.ratedAmps ?? options.ratedAmps ?? null;
    this.#seed = seed;
    this.#label = label;
    if (this.#fixedAmps !== null) this.#physics = this.#fresh(this.#fixedAmps);
    else if (![1, 2, 3].includes(this.poles))
      throw new RangeError(`poles must be 1, 2 or 3, found ${this.poles}`);
  }

  /** How often its handle was worked, resetting after a trip included. */
  get operations(): number {
    return this.#physics?.operations ?? this.#operationsBefore;
  }

  /** Hottest bimetal as a share of its trip rise, when it was last looked at; 0 before its first shot. */
  get heatShare(): number {
    return this.#physics?.heatShare ?? 0;
  }

  /** Works the handle to and fro. */
  exerciseHandle(times: number): void {
    if (!Number.isInteger(times) || times < 0)
      throw new RangeError(`the handle can be worked a whole number of times from 0 up, found ${times}`);
    if (this.#physics !== null) this.#physics.exerciseHandle(times);
    else this.#operationsBefore += times;
  }

  /** Lets it cool up to a moment of the rig's time. */
  restUntil(rigSeconds: number): void {
    this.#physics?.rest(Math.max(0, rigSeconds - this.#asOfSeconds));
    this.#asOfSeconds = rigSeconds;
  }

  /** Tells that its heat is right for this moment of the rig's time, as after a shot. */
  setAsOf(rigSeconds: number): void {
    this.#asOfSeconds = rigSeconds;
  }

  /**
   * The breaker for a shot with this rating. Where neither profile nor mounting fixes the rating, another rating than
   * before means that somebody clamped in another breaker: a cold one.
   */
  forShot(ratedAmps: number): BreakerPhysics {
    if (this.#physics === null || (this.#fixedAmps === null && this.#physics.ratedAmps !== ratedAmps)) {
      this.#physics = this.#fresh(ratedAmps);
      this.#physics.exerciseHandle(this.#operationsBefore);
      this.#operationsBefore = 0;
    }
    return this.#physics;
  }

  #fresh(ratedAmps: number): BreakerPhysics {
    const random = SeededRandom.stream(this.#seed, `${this.#label} ${ratedAmps} A`);
    return new BreakerPhysics(this.profile, ratedAmps, this.poles, random);
  }
}
