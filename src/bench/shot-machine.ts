import type { HostEnd, OffReason, RigResult } from "../core/signal/shot-signal.ts";
import { type ShotOrder, whatForbids } from "./check-shot.ts";
import { hostEndOf } from "./host-end.ts";
import type { LineHealth } from "./line-health.ts";
import { RigRefusal } from "./rig-error.ts";
import type { RigSession, RigState, ShotReservation } from "./rig-session.ts";
import { ShotRecorder, type SignalSink } from "./shot-recorder.ts";
import {
  type ShotAction,
  type ShotState,
  type ShotTrigger,
  shotTransition,
  shotTriggers,
} from "./shot-transitions.ts";

export type { ShotOrder } from "./check-shot.ts";

/** Who follows a shot. An exception thrown here switches the current off and ends the shot. */
export interface ShotSink extends SignalSink {
  /** The state that begins now; what it does is done after this returns, so "inject" comes before any current. */
  state(state: ShotState): void;
}

/** How a shot ended. */
export interface ShotEnd {
  hostEnd: HostEnd;
  rigResult: RigResult | null;
  /** Air temperature beside the specimen when the rig was armed. */
  ambientCelsius: number | null;
  lineHealth: { damaged: number; askedAgain: number; missing: number };
  /** In words. */
  reason: string;
  /** Whether current was ever known to be on. */
  opened: boolean;
}

/** Wall-clock times in milliseconds that bound the waiting of a shot. */
export interface ShotTiming {
  /** The line is quiet when no line of the shot came for so long. */
  quietMs: number;
  /** After the current is off, waiting for the result ends when nothing of the shot came for so long. */
  settleIdleMs: number;
  /** And in any case after this. */
  settleMostMs: number;
  /** Arming is tried again after so long while the rig still holds the result of a shot before. */
  pendingMs: number;
  pendingTries: number;
  /** A real rig that keeps current on for so much longer than its own maximum is told to stop. */
  overrunMs: number;
}

const usualShotTiming: ShotTiming = {
  quietMs: 100,
  settleIdleMs: 3_000,
  settleMostMs: 180_000,
  pendingMs: 400,
  pendingTries: 5,
  overrunMs: 5_000,
};

/**
 * Runs one shot to its end, by the table in `shot-transitions.ts`.
 *
 * It rejects if no shot came about: the order or the rig's state forbids it, the rig refuses to arm, or `stop` came first;
 * no current has flowed then. Once FIRE is sent it resolves, whatever happens: the current is off by the rig's own word, or
 * the heartbeat has ended, without which the rig switches off by itself.
 *
 * @throws Error with the reason; RigRefusal if the rig refused to arm
 */
export async function runShot(
  session: RigSession,
  order: ShotOrder,
  sink: ShotSink,
  stop: AbortSignal,
  timing: Partial<ShotTiming> = {},
): Promise<ShotEnd> {
  const reservation = session.claim(order.shot);
  const shot = new Shot(session, reservation, order, sink, { ...usualShotTiming, ...timing });
  const wantStop = () => shot.happen("stop-wanted");
  stop.addEventListener("abort", wantStop);
  try {
    return await shot.run(stop.aborted);
  } finally {
    stop.removeEventListener("abort", wantStop);
    reservation.release();
  }
}

type Timer = "pending" | "quiet" | "idle" | "most" | "overrun";

class Shot {
  readonly #session: RigSession;
  readonly #reservation: ShotReservation;
  readonly #order: ShotOrder;
  readonly #sink: ShotSink;
  readonly #timing: ShotTiming;
  readonly #recorder: ShotRecorder;
  readonly #healthBefore: LineHealth;
  readonly #leave: (() => void)[] = [];
  readonly #timers = new Map<Timer, NodeJS.Timeout>();
  readonly #happened: { trigger: ShotTrigger; detail: string | null }[] = [];
  #working = false;
  #state: ShotState = "checks";
  /** What first led towards the end. */
  #cause: { trigger: ShotTrigger; detail: string | null } | null = null;
  #failure: unknown = null;
  #token = "";
  #fired = false;
  #acknowledged = false;
  #ambientCelsius: number | null = null;
  #resolve: (end: ShotEnd) => void = () => {};
  #reject: (error: unknown) => void = () => {};

  readonly #actions: Readonly<Record<ShotAction, () => void>> = {
    "send-arm": () => this.#arm(this.#timing.pendingTries),
    "send-fire": () => this.#fire(),
    "watch-limit": () => this.#watch(),
    "switch-off": () => this.#switchOff(),
    "await-rest": () => this.#awaitRest(),
    "abandon-line": () => {
      this.#session.abandon(
        "STOP was not answered; the heartbeat was ended so that the rig switches off by itself",
      );
      this.#handOver();
    },
    "hand-over": () => this.#handOver(),
    refuse: () => this.#refuse(),
    "disarm-and-refuse": () => {
      this.#session.command({ verb: "STOP" }).then(
        () => this.#refuse(),
        () => this.#refuse(),
      );
    },
    finish: () => this.#finish(),
  };

  constructor(
    session: RigSession,
    reservation: ShotReservation,
    order: ShotOrder,
    sink: ShotSink,
    timing: ShotTiming,
  ) {
    this.#session = session;
    this.#reservation = reservation;
    this.#order = order;
    this.#sink = sink;
    this.#timing = timing;
    this.#recorder = new ShotRecorder(sink, order.rawSamples);
    this.#healthBefore = session.health;
  }

  run(stopped: boolean): Promise<ShotEnd> {
    const ended = new Promise<ShotEnd>((resolve, reject) => {
      this.#resolve = resolve;
      this.#reject = reject;
    });
    const session = this.#session;
    this.#leave.push(
      session.on("state", (state) => this.#hear(state)),
      session.on("sample", (message) => this.#take(message.shot, () => this.#recorder.sample(message))),
      session.on("event", (message) => this.#take(message.shot, () => this.#recorder.event(message))),
      session.on("raw", (message) => this.#take(message.shot, () => this.#recorder.raw(message))),
      session.on("result", (message) => this.#take(message.shot, () => this.#takeResult(message))),
      session.on("lost", (reason) => this.happen("line-lost", reason)),
    );
    this.#tellState();
    if (stopped) this.happen("stop-wanted");
    const forbidden = whatForbids(this.#order, session);
    if (forbidden.length === 0) this.happen("fit");
    else this.happen("unfit", forbidden.join("; "));
    return ended;
  }

  /** Lets something happen: the table says what follows. What happens meanwhile waits for its turn. Never throws. */
  happen(trigger: ShotTrigger, detail: string | null = null): void {
    this.#happened.push({ trigger, detail });
    if (this.#working) return;
    this.#working = true;
    for (let next = this.#happened.shift(); next !== undefined; next = this.#happened.shift()) {
      const transition = shotTransition(this.#state, next.trigger);
      if (transition === "stay") continue;
      if (!goesOn.has(transition.to)) this.#cause ??= next;
      this.#state = transition.to;
      if (this.#tellState() || transition.to !== "inject") this.#actions[transition.action]();
    }
    this.#working = false;
  }

  /** @returns whether the sink took it */
  #tellState(): boolean {
    return this.#guarded(() => this.#sink.state(this.#state));
  }

  #guarded(act: () => void): boolean {
    try {
      act();
      return true;
    } catch (error) {
      this.#failure ??= error;
      this.happen("sink-failed", wordsOf(error));
      return false;
    }
  }

  #arm(triesLeft: number): void {
    const { shot, targetAmps, ratedAmps, longestSeconds, loading, every, rawSamples } = this.#order;
    const ambient = this.#session.state?.ambient;
    this.#ambientCelsius = ambient === undefined ? null : ambient / 1000;
    this.#session
      .command({
        verb: "ARM",
        shot,
        amps: Math.round(targetAmps * 1000),
        rated: Math.round(ratedAmps * 1000),
        longest: Math.round(longestSeconds * 1000),
        loading,
        every,
        raw: rawSamples,
      })
      .then(
        (answer) => {
          if (answer.verb === "READY") {
            this.#token = answer.token;
            this.happen("armed");
          } else this.happen("not-armed", "the rig answered ARM with OK, not with READY and a token");
        },
        (error: unknown) => {
          if (error instanceof RigRefusal && error.code === "result-pending" && triesLeft > 0) {
            this.#after("pending", this.#timing.pendingMs, () => {
              if (this.#state === "arm") this.#arm(triesLeft - 1);
            });
            return;
          }
          this.#failure ??= error;
          this.happen("not-armed", wordsOf(error));
        },
      );
  }

  #fire(): void {
    this.#fired = true;
    this.#reservation.expectResult();
    this.#session.command({ verb: "FIRE", token: this.#token }).then(
      () => {
        this.#recorder.currentSeen = true;
        this.happen("current-on");
      },
      (error: unknown) =>
        this.happen(error instanceof RigRefusal ? "fire-refused" : "fire-unanswered", wordsOf(error)),
    );
  }

  #watch(): void {
    // An emulated clock may be slower than the wall; a real one is not, so the wall is a second witness.
    if (this.#session.identity?.emulated === false)
      this.#after("overrun", this.#order.longestSeconds * 1000 + this.#timing.overrunMs, () =>
        this.happen("limit-reached", "the rig kept the current on past its own hard maximum"),
      );
    this.#checkLimit();
  }

  #checkLimit(): void {
    if (this.#state === "watch" && this.#recorder.onSeconds >= this.#order.endAtSeconds)
      this.happen("limit-reached");
  }

  #switchOff(): void {
    this.#session.command({ verb: "STOP" }).then(
      () => this.happen("stop-confirmed"),
      (error: unknown) => this.happen("stop-unanswered", wordsOf(error)),
    );
  }

  #hear(state: RigState): void {
    const danger = dangerIn(state);
    if (!this.#fired) {
      if (danger !== null) this.happen("danger", danger);
      return;
    }
    const on = state.state === "on";
    this.#recorder.clock(state.at, on);
    if (on) {
      this.happen(this.#state === "settle" ? "still-on" : "current-on");
      if (danger !== null) this.happen("danger", danger);
    } else if (this.#recorder.currentSeen && state.state !== "armed") {
      this.happen("rig-off", `the rig's state is "${state.state}"`);
    }
    this.#checkLimit();
  }

  #take(shot: number, act: () => void): void {
    if (shot !== this.#order.shot || !this.#fired || this.#state === "record" || this.#state === "done")
      return;
    this.#guarded(act);
    if (this.#recorder.currentSeen) this.happen("current-on");
    if (this.#recorder.off !== null) this.happen("rig-off");
    this.#checkLimit();
    if (this.#state === "settle") this.#stayAwake();
  }

  #takeResult(message: Parameters<ShotRecorder["takeResult"]>[0]): void {
    this.#recorder.takeResult(message);
    void this.#session.acknowledge(message.shot).then(() => {
      this.#acknowledged = true;
    });
  }

  #awaitRest(): void {
    this.#after("most", this.#timing.settleMostMs, () => this.happen("patience-over"));
    this.#stayAwake();
  }

  /** Something of the shot came: waits anew for quiet. */
  #stayAwake(): void {
    this.#after("idle", this.#timing.settleIdleMs, () => this.happen("patience-over"));
    this.#awaitQuiet();
  }

  #awaitQuiet(): void {
    this.#after("quiet", this.#timing.quietMs, () => {
      if (this.#state !== "settle") return;
      const neverOn = this.#cause?.trigger === "fire-refused" && !this.#recorder.currentSeen;
      const told = this.#recorder.result !== null && this.#acknowledged;
      if ((told || neverOn) && this.#session.missingNow === 0) this.happen("complete");
      else this.#awaitQuiet();
    });
  }

  #handOver(): void {
    this.#guarded(() => this.#recorder.flushRaw());
    this.happen("recorded");
  }

  #finish(): void {
    this.#letGo();
    const failed = this.#failure;
    if (!this.#fired) {
      this.#reject(failed ?? new Error(`shot ${this.#order.shot} was not made: ${this.#reason()}`));
      return;
    }
    const health = this.#session.health;
    const before = this.#healthBefore;
    this.#resolve({
      hostEnd: hostEndOf(this.#cause?.trigger ?? null, this.#recorder.off),
      rigResult: this.#recorder.result,
      ambientCelsius: this.#ambientCelsius,
      lineHealth: {
        damaged: health.damaged - before.damaged,
        askedAgain: health.askedAgain - before.askedAgain,
        missing: health.missing - before.missing + this.#recorder.outOfTime,
      },
      reason:
        failed === null ? this.#reason() : `${this.#reason()}; not all could be stored: ${wordsOf(failed)}`,
      opened: this.#recorder.currentSeen,
    });
  }

  #refuse(): void {
    this.#letGo();
    this.#reject(this.#failure ?? new Error(`shot ${this.#order.shot} was not made: ${this.#reason()}`));
  }

  #letGo(): void {
    for (const leave of this.#leave) leave();
    for (const timer of this.#timers.values()) clearTimeout(timer);
    this.#timers.clear();
  }

  #reason(): string {
    const off = this.#recorder.off;
    if (off !== null && off !== "host-stop") return offWords[off];
    if (this.#cause === null) return "no reason is known";
    const { trigger, detail } = this.#cause;
    return detail === null ? shotTriggers[trigger] : `${shotTriggers[trigger]}: ${detail}`;
  }

  #after(name: Timer, delayMs: number, act: () => void): void {
    clearTimeout(this.#timers.get(name));
    this.#timers.set(name, setTimeout(act, delayMs));
  }
}

/** States of a shot that is on its way, not yet ending. */
const goesOn: ReadonlySet<ShotState> = new Set(["checks", "arm", "inject", "watch"]);

const offWords: Readonly<Record<Exclude<OffReason, "host-stop">, string>> = {
  opened: "the specimen opened",
  "longest-time": "the rig ended the shot at its hard maximum on-time",
  "heartbeat-lost": "the rig missed the heartbeat and switched off",
  interlock: "the interlock of the test area opened",
  "over-temperature": "the current source became too hot",
  "stop-button": "the hard-wired stop button was pressed",
  "source-fault": "the current source failed",
  "link-lost": "the line to the rig was lost",
  "host-died": "the program on the host ended",
};

function dangerIn(state: RigState): string | null {
  if (state.interlock === "open") return "the interlock of the test area is open";
  if (state.button === "pressed") return "the hard-wired stop button is pressed";
  return state.state === "fault" ? "the rig is in its fault state" : null;
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
