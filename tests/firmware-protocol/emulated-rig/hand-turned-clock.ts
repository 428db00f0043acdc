import type { WallClock } from "../../../firmware-protocol/emulated-rig/wall-clock.ts";

/** A wall clock that stands still until it is turned. */
export class HandTurnedClock implements WallClock {
  #nowMs = 0;
  #timers: { everyMs: number; dueMs: number; act: () => void }[] = [];
  #soon: (() => void)[] = [];

  nowMs(): number {
    return this.#nowMs;
  }

  every(everyMs: number, act: () => void): () => void {
    const timer = { everyMs, dueMs: this.#nowMs + everyMs, act };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((one) => one !== timer);
    };
  }

  soon(act: () => void): void {
    this.#soon.push(act);
  }

  /** Whether anything still waits to be called. */
  get isIdle(): boolean {
    return this.#timers.length === 0 && this.#soon.length === 0;
  }

  /** Turns the clock forward, calling what falls due on the way, in order. */
  turn(milliseconds: number): void {
    const endMs = this.#nowMs + milliseconds;
    for (;;) {
      this.#runSoon();
      const due = this.#timers.filter((timer) => timer.dueMs <= endMs);
      const next = due.sort((a, b) => a.dueMs - b.dueMs)[0];
      if (next === undefined) break;
      this.#nowMs = next.dueMs;
      next.dueMs += next.everyMs;
      next.act();
    }
    this.#nowMs = endMs;
    this.#runSoon();
  }

  #runSoon(): void {
    while (this.#soon.length > 0) for (const act of this.#soon.splice(0)) act();
  }
}
