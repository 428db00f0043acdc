import type { HostMessage, OffReason } from "../messages.ts";
import { AcWaveform } from "./ac-waveform.ts";
import type { BreakerPhysics } from "./breaker-physics.ts";
import type { CurrentSource } from "./current-source.ts";
import type { SeededRandom } from "./seeded-random.ts";

/** What the host ordered with ARM. */
export type ShotOrder = Extract<HostMessage, { verb: "ARM" }>;

/** The source keeps its voltage on for so many cycles after an opening, to be sure that it was one. */
const sureCycles = 3;
/** The rig keeps sampling for so many cycles after the source went off. */
const tailCycles = 4;

/**
 * One shot, window by window. All times are microseconds since the onset; windows follow one another without a gap from
 * there on.
 */
export class ShotSimulation {
  readonly order: ShotOrder;
  readonly windowUs: number;
  readonly #breaker: BreakerPhysics;
  readonly #source: CurrentSource;
  readonly #random: SeededRandom;
  readonly #ambientCelsius: number;
  readonly #cycleUs: number;
  readonly #waveform: AcWaveform;
  readonly #magneticPeakAmps: number;
  /** Steady true RMS of each window so far, A. */
  readonly #steadyAmps: number[] = [];
  #openingUs = Number.POSITIVE_INFINITY;
  #offUs: number;
  #offWhy: OffReason = "longest-time";
  #squares = 0;

  /**
   * @param order what was armed
   * @param breaker the specimen
   * @param source the source of current
   * @param random draws this shot's errors and scatter
   * @param cycleUs length of one mains cycle, microseconds
   * @param ambientCelsius air temperature during the shot
   */
  constructor(
    order: ShotOrder,
    breaker: BreakerPhysics,
    source: CurrentSource,
    random: SeededRandom,
    cycleUs: number,
    ambientCelsius: number,
  ) {
    this.order = order;
    this.windowUs = order.every === "cycle" ? cycleUs : cycleUs / 2;
    this.#breaker = breaker;
    this.#source = source;
    this.#random = random;
    this.#cycleUs = cycleUs;
    this.#ambientCelsius = ambientCelsius;
    this.#offUs = order.longest * 1000;
    // The source closes near the angle without offset, but not exactly on it.
    this.#waveform = new AcWaveform(cycleUs, 0.15 * random.normal(), 12_000);
    breaker.beginShot(order.loading);
    source.beginShot(order.amps / 1000, random);
    this.#magneticPeakAmps = breaker.magneticPeakAmps;
  }

  /** Number of windows simulated. */
  get windows(): number {
    return this.#steadyAmps.length;
  }

  /** End of the newest window. */
  get nowUs(): number {
    return this.windows * this.windowUs;
  }

  /** When the source goes off, as far as is known now, and why. */
  get off(): { us: number; why: OffReason } {
    return { us: this.#offUs, why: this.#offWhy };
  }

  /** When the specimen interrupted the current; null if it has not, or not before the source went off. */
  get openingUs(): number | null {
    return this.#openingUs <= this.#offUs ? this.#openingUs : null;
  }

  /** End of the current. */
  get #endUs(): number {
    return Math.min(this.#openingUs, this.#offUs);
  }

  /** Whether all is over and sampled. */
  get finished(): boolean {
    return this.nowUs >= this.#offUs + tailCycles * this.#cycleUs;
  }

  /** What the firmware measured by itself over the on-time. */
  get result(): { outcome: "opened" | "not-opened"; onTimeUs: number; rmsMilliamps: number } {
    const onTimeUs = Math.min(this.#endUs, this.nowUs);
    return {
      outcome: this.openingUs === null ? "not-opened" : "opened",
      onTimeUs: Math.round(onTimeUs),
      rmsMilliamps: Math.round(Math.sqrt((this.#squares * this.windowUs) / Math.max(1, onTimeUs))),
    };
  }

  /**
   * Switches the source off now. If the specimen has opened already, that stays the reason.
   *
   * @param us when, not before the end of the newest window
   */
  switchOff(us: number, why: OffReason): void {
    if (us >= this.#offUs) return;
    this.#offUs = us;
    this.#offWhy = this.#openingUs <= us ? "opened" : why;
  }

  /** Simulates the next window. @returns its true RMS as the rig measured it, mA */
  step(): number {
    const fromUs = this.nowUs;
    const toUs = fromUs + this.windowUs;
    const seconds = this.windowUs / 1e6;
    const live = fromUs < this.#endUs;
    const steadyAmps = live ? this.#source.next(seconds) : 0;
    this.#steadyAmps.push(steadyAmps);
    let rmsAmps = live ? this.#windowAmps(steadyAmps, fromUs, toUs) : 0;
    const demandUs = this.#firstDemandUs(rmsAmps, steadyAmps, fromUs, toUs);
    if (live && demandUs !== null && this.#openingUs === Number.POSITIVE_INFINITY)
      this.#demand(demandUs, steadyAmps);
    if (live && this.#endUs < toUs) rmsAmps = this.#windowAmps(steadyAmps, fromUs, toUs);

    const milliamps = this.#source.measureRms(rmsAmps);
    if (live) this.#squares += milliamps * milliamps;
    return milliamps;
  }

  /** Instantaneous current at equal distances as the rig measured it, mA. */
  rawValues(firstUs: number, stepUs: number, count: number): number[] {
    return Array.from({ length: count }, (_, index) => {
      const us = firstUs + index * stepUs;
      const live = us >= 0 && us < this.#endUs;
      const steadyAmps = live ? (this.#steadyAmps[Math.floor(us / this.windowUs)] ?? 0) : 0;
      return this.#source.measureInstant(steadyAmps === 0 ? 0 : steadyAmps * this.#waveform.shape(us));
    });
  }

  #windowAmps(steadyAmps: number, fromUs: number, toUs: number): number {
    const whole = this.#endUs >= toUs && this.#waveform.isSteady(fromUs);
    return whole ? steadyAmps : steadyAmps * this.#waveform.windowRms(fromUs, toUs, this.#endUs);
  }

  #firstDemandUs(rmsAmps: number, steadyAmps: number, fromUs: number, toUs: number): number | null {
    const intoSeconds = this.#breaker.heat(rmsAmps, this.windowUs / 1e6, this.#ambientCelsius);
    const thermalUs = intoSeconds === null ? null : fromUs + intoSeconds * 1e6;
    // No offset more than doubles the peak, so weaker currents need no closer look.
    if (steadyAmps * 2 * Math.SQRT2 < this.#magneticPeakAmps) return thermalUs;
    const magneticUs = this.#waveform.firstAbove(this.#magneticPeakAmps / steadyAmps, fromUs, toUs);
    if (magneticUs === null) return thermalUs;
    return thermalUs === null ? magneticUs : Math.min(thermalUs, magneticUs);
  }

  #demand(us: number, steadyAmps: number): void {
    const attempt = this.#breaker.tryToTrip(steadyAmps / this.#breaker.ratedAmps);
    if (!attempt.released) return;
    this.#breaker.open();
    this.#openingUs = this.#waveform.nextZero(us + attempt.unlatchSeconds * 1e6);
    if (this.#openingUs > this.#offUs) return;
    this.#offUs = this.#openingUs + sureCycles * this.#cycleUs;
    this.#offWhy = "opened";
  }

  /** When each loaded pole opened: one interrupts the current, the others follow within 2 ms. */
  poleOpenings(): { pole: number; us: number }[] {
    const openingUs = this.openingUs;
    if (openingUs === null) return [];
    const { loading } = this.order;
    if (loading !== "all") return [{ pole: Number(loading.slice("pole-".length)), us: openingUs }];
    const first = this.#random.index(this.#breaker.poles) + 1;
    return Array.from({ length: this.#breaker.poles }, (_, index) => index + 1)
      .map((pole) => ({ pole, us: pole === first ? openingUs : openingUs + 2000 * this.#random.uniform() }))
      .sort((a, b) => a.us - b.us);
  }
}
