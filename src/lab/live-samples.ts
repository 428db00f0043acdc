import type { LiveMessage } from "../contract/http.ts";
import type { SampleRun } from "../core/signal/shot-signal.ts";

/** Turns sample runs into live messages whose times count from the onset. */
export class LiveSamples {
  readonly #shot: string;
  readonly #onsetMilliamps: number;
  readonly #tell: (message: LiveMessage) => void;
  #zeroUs: number | null = null;
  #begun = false;

  constructor(shot: string, targetAmps: number, tell: (message: LiveMessage) => void) {
    this.#shot = shot;
    this.#onsetMilliamps = targetAmps * 100;
    this.#tell = tell;
  }

  add(run: SampleRun): void {
    this.#zeroUs ??= run.firstEndUs;
    const seconds: number[] = [];
    const amps: number[] = [];
    run.milliamps.forEach((milliamps, i) => {
      const atUs = run.firstEndUs + i * run.stepUs;
      if (!this.#begun && milliamps >= this.#onsetMilliamps) {
        this.#begun = true;
        this.#zeroUs = atUs - run.stepUs;
      }
      seconds.push((atUs - (this.#zeroUs ?? atUs)) / 1e6);
      amps.push(milliamps / 1000);
    });
    this.#tell({ kind: "samples", shot: this.#shot, seconds, amps, sentMs: Date.now() });
  }
}
