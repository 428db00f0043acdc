/**
 * The mains-frequency current of one shot: a sine with the decaying direct current that goes with closing a circuit away
 * from the instant at which its steady current would be zero. i(t) = sqrt(2) I (sin(wt + a) - sin(a) exp(-t / tau)), so
 * that it begins at zero. (Textbook solution of a sine voltage switched onto a resistance and an inductance.)
 */
export class AcWaveform {
  readonly #radiansPerUs: number;
  readonly #angle: number;
  readonly #offset: number;
  readonly #decayUs: number;
  readonly #cycleUs: number;

  /**
   * @param cycleUs length of one mains cycle, microseconds
   * @param closingAngle a, radians
   * @param decayUs tau, microseconds
   */
  constructor(cycleUs: number, closingAngle: number, decayUs: number) {
    this.#cycleUs = cycleUs;
    this.#radiansPerUs = (2 * Math.PI) / cycleUs;
    this.#angle = closingAngle;
    this.#offset = Math.sin(closingAngle);
    this.#decayUs = decayUs;
  }

  /** Instantaneous current `us` after the onset, per ampere of steady true RMS. */
  shape(us: number): number {
    if (us < 0) return 0;
    const sine = Math.sin(this.#radiansPerUs * us + this.#angle);
    return Math.SQRT2 * (sine - this.#offset * Math.exp(-us / this.#decayUs));
  }

  /** Whether the direct current has died away by then, to less than a ten-thousandth. */
  isSteady(us: number): boolean {
    return us > 9.2 * this.#decayUs;
  }

  /**
   * True RMS over a window, per ampere of steady true RMS, if the current ends at `endUs`.
   *
   * Midpoint rule on 128 points: exact for whole cycles of a sine, and within 0.1 % for parts of one.
   */
  windowRms(fromUs: number, toUs: number, endUs: number): number {
    const liveUs = Math.max(0, Math.min(toUs, endUs) - fromUs);
    const points = 128;
    let squares = 0;
    for (let i = 0; i < points; i += 1) squares += this.shape(fromUs + ((i + 0.5) / points) * liveUs) ** 2;
    return Math.sqrt((squares / points) * (liveUs / (toUs - fromUs)));
  }

  /** The first instant after `us` at which the current passes through zero, where an arc dies. */
  nextZero(us: number): number {
    const step = this.#cycleUs / 256;
    let from = us;
    while (this.shape(from) > 0 === this.shape(from + step) > 0) from += step;
    let to = from + step;
    for (let i = 0; i < 20; i += 1) {
      const middle = (from + to) / 2;
      if (this.shape(middle) > 0 === this.shape(from) > 0) from = middle;
      else to = middle;
    }
    return to;
  }

  /** The first instant in a window at which the current's magnitude passes a level, or null. */
  firstAbove(level: number, fromUs: number, toUs: number): number | null {
    const points = 128;
    for (let i = 0; i <= points; i += 1) {
      const us = fromUs + ((toUs - fromUs) * i) / points;
      if (Math.abs(this.shape(us)) >= level) return us;
    }
    return null;
  }
}
