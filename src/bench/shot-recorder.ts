import type { RigMessage } from "../../firmware-protocol/messages.ts";
import type { OffReason, RawWindow, RigResult, SampleRun, ShotEvent } from "../core/signal/shot-signal.ts";

type MessageOf<V extends RigMessage["verb"]> = Extract<RigMessage, { verb: V }>;

/** Who takes what a shot brings, in order of time. What it throws ends the shot. */
export interface SignalSink {
  /** Consecutive samples without a gap; each call is later than the one before. */
  samples(run: SampleRun): void;
  event(event: ShotEvent): void;
  /** Consecutive raw values without a gap; a window that lost a line comes in parts. */
  raw(window: RawWindow): void;
}

/**
 * Turns the lines of one shot into the signal's own words, and keeps what the shot machine asks of them: when the current
 * began, how late it is on the rig's clock, and how the rig says it ended.
 */
export class ShotRecorder {
  readonly #sink: SignalSink;
  readonly #rawWanted: number;
  #onsetUs: number | null = null;
  #onsetTold = false;
  #nowUs: number | null = null;
  #lastEndUs = Number.NEGATIVE_INFINITY;
  #raw: { window: RawWindow["window"]; firstAtUs: number; stepNs: number; values: number[] } | null = null;
  /** Why the rig says that the source is off; null as long as it has not. */
  off: OffReason | null = null;
  result: RigResult | null = null;
  /** True once anything told of current. */
  currentSeen = false;
  /** Lines that could not be used because they lie before others in time. */
  outOfTime = 0;
  received = 0;

  constructor(sink: SignalSink, rawWanted: number) {
    this.#sink = sink;
    this.#rawWanted = rawWanted;
  }

  /** Seconds on the rig's clock since the current began, as far as is known now; 0 before. */
  get onSeconds(): number {
    return this.#onsetUs === null || this.#nowUs === null
      ? 0
      : Math.max(0, this.#nowUs - this.#onsetUs) / 1e6;
  }

  /** The rig's clock as told by its state; the first state with current stands in for an onset not heard yet. */
  clock(atUs: number, on: boolean): void {
    if (on) {
      this.currentSeen = true;
      this.#onsetUs ??= atUs;
    }
    this.#nowUs = Math.max(this.#nowUs ?? atUs, atUs);
  }

  sample(message: MessageOf<"SAMPLE">): void {
    const { t0, step, values } = message;
    // Ends are rounded to microseconds, so neighbours may seem to overlap a little; half a window is no rounding.
    if (t0 - this.#lastEndUs < step / 2) {
      this.outOfTime += 1;
      return;
    }
    this.#lastEndUs = t0 + (values.length - 1) * step;
    this.received += values.length;
    this.currentSeen = true;
    if (!this.#onsetTold) this.#onsetUs = Math.min(this.#onsetUs ?? t0 - step, t0 - step);
    this.#nowUs = Math.max(this.#nowUs ?? t0, this.#lastEndUs);
    this.#sink.samples({ firstEndUs: t0, stepUs: step, milliamps: Int32Array.from(values) });
  }

  event(message: MessageOf<"EVENT">): void {
    const { at, kind, pole, why } = message;
    this.#nowUs = Math.max(this.#nowUs ?? at, at);
    if (kind === "onset") {
      this.currentSeen = true;
      this.#onsetUs = at;
      this.#onsetTold = true;
      this.#sink.event({ atUs: at, kind });
    } else if (kind === "opening") {
      this.#sink.event(pole === undefined ? { atUs: at, kind } : { atUs: at, kind, pole });
    } else {
      this.off = why ?? "source-fault";
      this.#sink.event({ atUs: at, kind, why: this.off });
    }
  }

  raw(message: MessageOf<"RAW">): void {
    const { window, t0, step, values } = message;
    const open = this.#raw;
    const follows =
      open !== null &&
      open.window === window &&
      open.stepNs === step &&
      Math.abs((t0 - open.firstAtUs) * 1000 - open.values.length * step) <= 1000 + open.values.length / 2;
    if (follows) open.values.push(...values);
    else {
      this.flushRaw();
      this.#raw = { window, firstAtUs: t0, stepNs: step, values: [...values] };
    }
    if ((this.#raw?.values.length ?? 0) >= this.#rawWanted) this.flushRaw();
  }

  /** Hands on the raw values that are waiting for more. */
  flushRaw(): void {
    const open = this.#raw;
    this.#raw = null;
    if (open === null) return;
    const { window, firstAtUs, stepNs, values } = open;
    this.#sink.raw({ window, firstAtUs, stepNs, milliamps: Int32Array.from(values) });
  }

  takeResult(message: MessageOf<"RESULT">): void {
    const { outcome, why, ontime, rms, samples } = message;
    this.off ??= why;
    this.result = { outcome, why, onTimeUs: ontime, rmsMilliamps: rms, samples };
  }
}
