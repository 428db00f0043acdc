import { dangerIn, offWords, wordsOf } from "./_shot-words.ts";
import { type ShotOrder, whatForbids } from "./check-shot.ts";
import { hostEndOf } from "./host-end.ts";
import type { LineHealth } from "./line-health.ts";
import { RigRefusal } from "./rig-error.ts";
import type { RigSession } from "./rig-session.ts";
import type { RigState, ShotReservation } from "./session-events.ts";
import type { ShotEnd, ShotSink } from "./shot-end.ts";
import { ShotRecorder } from "./shot-recorder.ts";
import type { ShotTiming } from "./shot-timing.ts";
import {
  type ShotAction,
  type ShotState,
  type ShotTrigger,
  shotTransition,
  shotTriggers,
} from "./shot-transitions.ts";

type Timer = "pending" | "quiet" | "idle" | "most" | "overrun";

/** One shot on its way through the table: what happens is looked up there, and what stands there is done. */
export class ShotRun {
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
    if (!this.#fired) {
      this.#refuse();
      return;
    }
    this.#letGo();
    const failed = this.#failure;
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
