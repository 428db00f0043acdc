import type { ShotOrder, ShotSink } from "../../src/bench/shot-machine.ts";
import type { ShotState } from "../../src/bench/shot-transitions.ts";
import type { RawWindow, SampleRun, ShotEvent } from "../../src/core/signal/shot-signal.ts";

/** A sink that keeps all that it is told. */
export class RecordingSink implements ShotSink {
  readonly states: ShotState[] = [];
  readonly runs: SampleRun[] = [];
  readonly events: ShotEvent[] = [];
  readonly windows: RawWindow[] = [];
  /** Called after each state and each run, for tests that act in the middle of a shot. */
  onState: (state: ShotState) => void = () => {};
  onSamples: (count: number) => void = () => {};

  state(state: ShotState): void {
    this.states.push(state);
    this.onState(state);
  }
  samples(run: SampleRun): void {
    this.runs.push(run);
    this.onSamples(this.count);
  }
  event(event: ShotEvent): void {
    this.events.push(event);
  }
  raw(window: RawWindow): void {
    this.windows.push(window);
  }

  get count(): number {
    return this.runs.reduce((sum, run) => sum + run.milliamps.length, 0);
  }

  /** All values with the end of each one's window, counted from the onset in microseconds. */
  get sinceOnset(): { us: number; milliamps: number }[] {
    const onset = this.events.find((event) => event.kind === "onset")?.atUs ?? 0;
    return this.runs.flatMap((run) =>
      Array.from(run.milliamps, (milliamps, i) => ({
        us: run.firstEndUs + i * run.stepUs - onset,
        milliamps,
      })),
    );
  }

  /** Places between runs where at least one window is missing. */
  get gaps(): number {
    return this.runs.filter((run, i) => {
      const before = this.runs[i - 1];
      if (before === undefined) return false;
      const end = before.firstEndUs + (before.milliamps.length - 1) * before.stepUs;
      return run.firstEndUs - end > 1.5 * run.stepUs;
    }).length;
  }
}

/** An order that a sound breaker of 20 A trips in about a minute of rig time. */
export function quickOrder(change: Partial<ShotOrder> = {}): ShotOrder {
  return {
    shot: 1,
    targetAmps: 40,
    ratedAmps: 20,
    loading: "pole-1",
    endAtSeconds: 150,
    longestSeconds: 160,
    every: "cycle",
    rawSamples: 256,
    ...change,
  };
}

/** A signal that never comes. */
export const noStop = new AbortController().signal;
