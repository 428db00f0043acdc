import type { SeededRandom } from "./seeded-random.ts";

/** What the source can do, and when it protects itself. */
export const sourceLimits = {
  lowestMilliamps: 500,
  highestMilliamps: 60_000_000,
  hottestCelsius: 95,
  /** After an over-temperature it must cool to this before it may be used again. */
  coolEnoughCelsius: 85,
} as const;

const settlingSeconds = 0.045;
const driftSeconds = 400;
const leadSeconds = 150;
const sourceSeconds = 900;

/**
 * The regulated current source and the sensor in its circuit.
 *
 * The set current is missed by an error that dies within a few cycles, by a sag as leads and joints warm and grow in
 * resistance, by a slow drift, and by ripple from cycle to cycle; the sensor adds noise. Heat of source and leads lasts
 * from shot to shot. All sizes are plausible inventions.
 */
export class CurrentSource {
  #rise = 0;
  #leads = 0;
  #amps = 0;
  #random: SeededRandom | null = null;
  #startError = 0;
  #settled = 1;
  #drift = 0;
  #stepSeconds = Number.NaN;
  #settledKept = 1;
  #driftKept = 1;
  #leadsKept = 1;
  #riseKept = 1;

  /** Temperature of the source above ambient, K. */
  get riseKelvin(): number {
    return this.#rise;
  }

  /** Something heats the source to 100 K above ambient, as a blocked fan would. */
  overheat(): void {
    this.#rise = Math.max(this.#rise, 100);
  }

  /** Time without current. */
  rest(seconds: number): void {
    this.#rise *= Math.exp(-seconds / sourceSeconds);
    this.#leads *= Math.exp(-seconds / leadSeconds);
  }

  /** Prepares for a shot at a set current; `random` draws its errors. */
  beginShot(amps: number, random: SeededRandom): void {
    this.#amps = amps;
    this.#random = random;
    this.#startError = 0.02 * random.normal();
    this.#settled = 1;
    this.#drift = 0.0008 * random.normal();
  }

  /** Steady true RMS of the next window, A. */
  next(seconds: number): number {
    const random = this.#shotRandom();
    if (seconds !== this.#stepSeconds) {
      this.#stepSeconds = seconds;
      this.#settledKept = Math.exp(-seconds / settlingSeconds);
      this.#driftKept = Math.exp(-seconds / driftSeconds);
      this.#leadsKept = Math.exp(-seconds / leadSeconds);
      this.#riseKept = Math.exp(-seconds / sourceSeconds);
    }
    const error =
      this.#startError * this.#settled - 0.003 * this.#leads + this.#drift + 0.0004 * random.normal();
    this.#settled *= this.#settledKept;
    const driftStep = 0.0008 * Math.sqrt(1 - this.#driftKept ** 2);
    this.#drift = this.#drift * this.#driftKept + driftStep * random.normal();
    this.#leads = 1 + (this.#leads - 1) * this.#leadsKept;
    const drive = 60 * ((this.#amps * 1000) / sourceLimits.highestMilliamps) ** 2;
    this.#rise = drive + (this.#rise - drive) * this.#riseKept;
    return this.#amps * (1 + error);
  }

  /** What the sensor's true RMS circuit makes of a current, whole milliamperes. */
  measureRms(amps: number): number {
    return Math.round(1000 * Math.abs(amps + 0.0002 * this.#amps * this.#shotRandom().normal()));
  }

  /** What the sensor's converter makes of an instantaneous current: whole steps of it, in milliamperes. */
  measureInstant(amps: number): number {
    const stepMilliamps = Math.max(1, Math.round((this.#amps * 1000 * 4) / 32_768));
    const noisy = 1000 * (amps + 0.001 * this.#amps * this.#shotRandom().normal());
    return stepMilliamps * Math.round(noisy / stepMilliamps);
  }

  #shotRandom(): SeededRandom {
    if (this.#random === null) throw new Error("the source was asked for current before beginShot");
    return this.#random;
  }
}
