/** Rig time runs at most this many times faster than the wall while no current flows, however high the speed. */
export const fastestRest = 1000;
/** Rig time runs at most this many times faster than the wall; a higher speed, such as Infinity, means this one. */
export const fastestSpeed = 1_000_000;
/** Current is simulated in pieces of at most this many microseconds, so that the host is heard in between. */
const pieceUs = 10_000_000;
/** What the processor could not do within so much wall time is let go. */
const patienceMs = 100;

/**
 * How much rig time the wall grants. Where the processor cannot keep up, rig time is slower than asked for; it never
 * falls behind by more than a tenth of a second of the wall, and never jumps to catch up.
 */
export class RigPace {
  readonly speed: number;
  #creditUs = 0;
  #seenAtMs = 0;

  /** @throws RangeError for a speed that is not above 0 */
  constructor(speed: number) {
    if (!(speed > 0)) throw new RangeError(`speed must be a number above 0, found ${speed}`);
    this.speed = Math.min(speed, fastestSpeed);
  }

  /** Whether rig time has been granted that is not yet used. */
  get isBehind(): boolean {
    return this.#creditUs > 0;
  }

  /** Counts from this moment of the wall, with nothing granted. */
  startAt(nowMs: number): void {
    this.#seenAtMs = nowMs;
    this.#creditUs = 0;
  }

  /** Rig time, microseconds, to be simulated now under current. */
  grantUnderCurrent(nowMs: number): number {
    const granted = this.#creditUs + this.#passedMs(nowMs) * 1000 * this.speed;
    this.#creditUs = Math.min(granted, patienceMs * 1000 * this.speed);
    const spendUs = Math.min(this.#creditUs, pieceUs);
    this.#creditUs -= spendUs;
    return spendUs;
  }

  /** Rig time, microseconds, that passes now without current. */
  grantAtRest(nowMs: number): number {
    this.#creditUs = 0;
    return this.#passedMs(nowMs) * 1000 * Math.min(this.speed, fastestRest);
  }

  #passedMs(nowMs: number): number {
    const passed = Math.max(0, nowMs - this.#seenAtMs);
    this.#seenAtMs = nowMs;
    return passed;
  }
}
