import { batchRaw, batchSamples } from "../codec/batch-samples.ts";
import type { OffReason, RigMessage } from "../messages.ts";
import { rawStepUs } from "./rig-identity.ts";
import type { RigVoice } from "./rig-voice.ts";
import type { ShotOrder, ShotSimulation } from "./shot-simulation.ts";

/** Samples wait for company in their line for no longer than this. */
const sampleWaitMs = 15;
/** At high speed, lines are filled before they go out. */
const fullBatch = 120;

/** A shot under way, and what is said of it: samples in batches, events after the samples that show them. */
export class RunningShot {
  readonly #simulation: ShotSimulation;
  readonly #voice: RigVoice;
  /** Onset on the rig's own clock, as it is stamped on messages. */
  readonly #onsetUs: number;
  #samples: number[] = [];
  #waitingSinceMs = 0;
  #openingTold = false;
  #offTold = false;

  constructor(simulation: ShotSimulation, voice: RigVoice, onsetUs: number) {
    this.#simulation = simulation;
    this.#voice = voice;
    this.#onsetUs = onsetUs;
    voice.say({ verb: "EVENT", shot: simulation.order.shot, at: this.#stamp(0), kind: "onset" });
  }

  get order(): ShotOrder {
    return this.#simulation.order;
  }

  /** Time since the onset up to which all is sampled. */
  get elapsedUs(): number {
    return this.#simulation.nowUs;
  }

  get windowUs(): number {
    return this.#simulation.windowUs;
  }

  /** Whether the source has been switched off. */
  get isOff(): boolean {
    return this.#offTold;
  }

  /** Whether all is over and sampled. */
  get isFinished(): boolean {
    return this.#simulation.finished;
  }

  /** Samples the next window, and tells what ended in it. */
  step(wallMs: number): void {
    if (this.#samples.length === 0) this.#waitingSinceMs = wallMs;
    this.#samples.push(this.#simulation.step());
    const { openingUs, off, nowUs } = this.#simulation;
    if (openingUs !== null && openingUs <= nowUs && !this.#openingTold) {
      this.#openingTold = true;
      this.flush();
      for (const { pole, us } of this.#simulation.poleOpenings())
        this.#voice.say({ verb: "EVENT", shot: this.order.shot, at: this.#stamp(us), kind: "opening", pole });
    }
    if (off.us <= nowUs) this.#tellOff();
  }

  /** Switches the source off, if it is still on. */
  switchOff(sinceOnsetUs: number, why: OffReason): void {
    if (this.#offTold) return;
    this.#simulation.switchOff(sinceOnsetUs, why);
    this.#tellOff();
  }

  /** Says the samples that wait, if they fill lines or have waited long enough. */
  flushIfDue(wallMs: number): void {
    if (this.#samples.length >= fullBatch || wallMs - this.#waitingSinceMs >= sampleWaitMs) this.flush();
  }

  /** Says the samples that wait. */
  flush(): void {
    if (this.#samples.length === 0) return;
    const { nowUs, windowUs } = this.#simulation;
    const firstEndUs = this.#onsetUs + nowUs - (this.#samples.length - 1) * windowUs;
    for (const message of batchSamples(this.order.shot, firstEndUs, windowUs, this.#samples))
      this.#voice.say(message);
    this.#samples = [];
  }

  /** Says what is left to say when all is sampled: raw windows. @returns the firmware's own result, not yet said */
  finish(): Extract<RigMessage, { verb: "RESULT" }> {
    this.flush();
    this.#sayRaw("onset", 0, 1 / 8);
    const { openingUs, result, off, windows } = this.#simulation;
    if (openingUs !== null) this.#sayRaw("opening", openingUs, 3 / 4);
    return {
      verb: "RESULT",
      shot: this.order.shot,
      outcome: result.outcome,
      why: off.why,
      ontime: result.onTimeUs,
      rms: result.rmsMilliamps,
      samples: windows,
    };
  }

  /** A raw window of which the share `before` lies before an instant, as far as the rig's clock reaches back. */
  #sayRaw(window: "onset" | "opening", us: number, before: number): void {
    const { shot, raw } = this.order;
    if (raw === 0) return;
    const wantedUs = Math.round(us) - Math.round(raw * before) * rawStepUs;
    const firstUs = Math.max(wantedUs, -Math.floor(this.#onsetUs));
    const values = this.#simulation.rawValues(firstUs, rawStepUs, raw);
    for (const message of batchRaw(shot, window, this.#stamp(firstUs), rawStepUs * 1000, values))
      this.#voice.say(message);
  }

  #tellOff(): void {
    if (this.#offTold) return;
    this.#offTold = true;
    this.flush();
    const { us, why } = this.#simulation.off;
    this.#voice.say({ verb: "EVENT", shot: this.order.shot, at: this.#stamp(us), kind: "off", why });
  }

  #stamp(sinceOnsetUs: number): number {
    return Math.round(this.#onsetUs + sinceOnsetUs);
  }
}
