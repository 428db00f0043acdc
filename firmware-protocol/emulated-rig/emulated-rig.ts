import { decodeLine } from "../codec/decode-line.ts";
import { type HostMessage, messages, type OffReason, protocolVersion, type RigMessage } from "../messages.ts";
import { AnsweredLines } from "./answered-lines.ts";
import type { BreakerProfile } from "./breaker-profile.ts";
import { CurrentSource, sourceLimits } from "./current-source.ts";
import { FaultyLine } from "./faulty-line.ts";
import { type LineFaults, soundLine } from "./line-faults.ts";
import { MountedBreaker } from "./mounted-breaker.ts";
import { RigEar } from "./rig-ear.ts";
import { type Hazard, RigHazards } from "./rig-hazards.ts";
import { beatMs, identity, longestMs, resultRepeatMs, tokenMs } from "./rig-identity.ts";
import { RigPace } from "./rig-pace.ts";
import { hexWord, RigVoice } from "./rig-voice.ts";
import { RunningShot } from "./running-shot.ts";
import { SeededRandom } from "./seeded-random.ts";
import { type ShotOrder, ShotSimulation } from "./shot-simulation.ts";
import { type WallClock, wallClockWhileAwake } from "./wall-clock.ts";

type RigState = Extract<RigMessage, { verb: "STATE" }>["state"];
type RefusalCode = Extract<RigMessage, { verb: "REFUSED" }>["code"];
type Arm = { order: ShotOrder; token: string; expiresAtMs: number };

const tickMs = 16;

/** What an emulated rig is made of. */
export interface EmulatedRigOptions {
  /** Decides every random draw: a whole number from 0 up. */
  seed: number;
  /** Rig seconds per wall second, above 0. */
  speed: number;
  /** The breaker that is clamped in at first. */
  breaker: BreakerProfile;
  /** Rating of that breaker; without it, and unless its profile has one, it takes the `rated` of the first shot. */
  ratedAmps?: number;
  /** Poles of that breaker, unless its profile fixes them; 3 if left out. */
  poles?: number;
  /** Air temperature; 25 if left out. */
  ambientCelsius?: number;
  /** Mains frequency; 60 if left out. */
  lineHz?: 50 | 60;
  lineFaults?: LineFaults;
  clock?: WallClock;
}

/**
 * A rig that exists only as a program: it speaks the wire of SPECIFICATION.md over any stream of bytes, and its current
 * flows through breakers that obey physics.
 *
 * Its own clock, which stamps all it says, runs `speed` times as fast as the wall as long as the processor keeps up, and
 * slower where not (see `RigPace`). Guards of the line (heartbeat, token, repetition of RESULT) run on wall time at any
 * speed, since what they guard is the live line and not the physics. The same seed and the same commands at the same rig
 * times give the same samples.
 */
export class EmulatedRig {
  readonly #clock: WallClock;
  readonly #seed: number;
  readonly #lineHz: number;
  readonly #faults: LineFaults;
  readonly #pace: RigPace;
  readonly #tokens: SeededRandom;
  readonly #source = new CurrentSource();
  readonly #hazards = new RigHazards();
  readonly #voice: RigVoice;
  readonly #ear: RigEar;
  readonly #answered = new AnsweredLines();
  readonly #pullHandlers: (() => void)[] = [];
  /** Faults of the line that come at a time and have not come yet. */
  readonly #faultsToCome = new Set<"silence" | "pull" | "reset">(["silence", "pull", "reset"]);

  #ambientCelsius: number;
  #mounted: MountedBreaker;
  #mounts = 0;
  #shots = 0;
  #cableOut = false;
  #silentUntilUs = 0;
  #stopTicking: (() => void) | null = null;
  #pieceWaits = false;

  /** Microseconds of rig time since the rig was made, at its newest start, and at the newest onset. */
  #timeUs = 0;
  #bootUs = 0;
  #onsetUs = 0;

  #state: RigState = "safe";
  #arm: Arm | null = null;
  #expiredToken: string | null = null;
  #beatAtMs = 0;
  #shot: RunningShot | null = null;
  #result: { message: Extract<RigMessage, { verb: "RESULT" }>; saidAtMs: number } | null = null;
  /** Where the answers to the host's line under way are remembered. */
  #answers: RigMessage[] | null = null;

  /** @throws RangeError for a seed, speed or breaker that cannot be */
  constructor(options: EmulatedRigOptions) {
    const { seed, breaker, ratedAmps, poles } = options;
    if (!Number.isSafeInteger(seed) || seed < 0)
      throw new RangeError(`seed must be a whole number from 0 up, found ${seed}`);
    this.#seed = seed;
    this.#pace = new RigPace(options.speed);
    this.#clock = options.clock ?? wallClockWhileAwake();
    this.#lineHz = options.lineHz ?? 60;
    this.#ambientCelsius = checkedAmbient(options.ambientCelsius ?? 25);
    this.#tokens = SeededRandom.stream(seed, "tokens");
    this.#faults = options.lineFaults ?? soundLine;
    const way = (name: "from-rig" | "to-rig") =>
      this.#faults.ways === "both" || this.#faults.ways === name
        ? new FaultyLine(this.#faults, SeededRandom.stream(seed, `line ${name}`))
        : null;
    this.#voice = new RigVoice(way("from-rig"), () => this.#linePasses);
    this.#ear = new RigEar(way("to-rig"));
    this.#mounted = this.mount(breaker, {
      ...(ratedAmps === undefined ? {} : { ratedAmps }),
      ...(poles === undefined ? {} : { poles }),
    });
  }

  /** Rig time since the rig was made, seconds. */
  get rigSeconds(): number {
    return this.#timeUs / 1e6;
  }

  /** Rig seconds per wall second, as far as the processor keeps up. */
  get speed(): number {
    return this.#pace.speed;
  }

  /** Whether the source is on. */
  get isOn(): boolean {
    return this.#state === "on";
  }

  /** The breaker that is clamped in. */
  get mounted(): MountedBreaker {
    return this.#mounted;
  }

  /** Calls `handler` with all that the rig says from now on. */
  onBytes(handler: (bytes: Uint8Array) => void): void {
    this.#voice.listen(handler);
  }

  /** Calls `handler` when the cable is pulled. */
  onCablePulled(handler: () => void): void {
    this.#pullHandlers.push(handler);
  }

  /** Switches the rig on. */
  start(): void {
    if (this.#stopTicking !== null) return;
    this.#pace.startAt(this.#clock.nowMs());
    this.#stopTicking = this.#clock.every(tickMs, () => this.#tick());
    this.#boot();
    this.#voice.deliver();
  }

  /** Switches the rig off, and the current with it. */
  stop(): void {
    this.#stopTicking?.();
    this.#stopTicking = null;
    this.#forget();
    this.#voice.discard();
  }

  /** A moment without supply: the current is off, everything is forgotten, the rig starts anew. */
  reset(): void {
    if (this.#stopTicking === null) return;
    this.#boot();
    this.#voice.deliver();
  }

  /** Bytes from the host, in pieces of any size. */
  receive(bytes: Uint8Array): void {
    if (!this.#linePasses) return;
    for (const line of this.#ear.hear(bytes)) this.#take(line);
    this.#voice.deliver();
  }

  /**
   * Clamps a breaker in: a cold one that nobody has touched, or one that was clamped in before, with what it has been
   * through; it has cooled meanwhile.
   *
   * @param options what a profile leaves open: rating, poles, and the seed that tells specimens of one kind apart; not
   *   used for a breaker that was clamped in before
   * @throws Error if the rig is armed or a shot is under way; RangeError where the options contradict the profile
   */
  mount(
    breaker: BreakerProfile | MountedBreaker,
    options: { ratedAmps?: number; poles?: number; seed?: number } = {},
  ): MountedBreaker {
    this.#demandIdle("a breaker can be clamped in");
    if (breaker instanceof MountedBreaker) this.#mounted = breaker;
    else {
      this.#mounts += 1;
      const { seed = this.#seed } = options;
      const label = options.seed === undefined ? `breaker ${this.#mounts}` : "breaker";
      this.#mounted = new MountedBreaker(breaker, options, seed, label);
    }
    this.#mounted.restUntil(this.rigSeconds);
    return this.#mounted;
  }

  /** Works the handle of the breaker that is clamped in. @throws Error if the rig is armed or a shot is under way */
  exerciseHandle(times: number): void {
    this.#demandIdle("the handle can be worked");
    this.#mounted.exerciseHandle(times);
  }

  /** Lets rig time pass at once. @throws Error if the rig is armed or a shot is under way */
  rest(seconds: number): void {
    this.#demandIdle("rig time can be skipped");
    if (!(seconds >= 0 && Number.isFinite(seconds)))
      throw new RangeError(`a rest must last a number of seconds from 0 up, found ${seconds}`);
    this.#restUs(seconds * 1e6);
  }

  /** Sets the air temperature from the next shot on, -40 to 85 degrees Celsius. */
  setAmbient(celsius: number): void {
    this.#ambientCelsius = checkedAmbient(celsius);
  }

  pressStopButton(): void {
    this.#hazards.buttonPressed = true;
    this.#endanger("stop-button");
  }

  releaseStopButton(): void {
    this.#hazards.buttonPressed = false;
    this.#tellState();
  }

  openInterlock(): void {
    this.#hazards.interlockOpen = true;
    this.#endanger("interlock");
  }

  closeInterlock(): void {
    this.#hazards.interlockOpen = false;
    this.#tellState();
  }

  /** The source grows too hot, whatever it does; it cools on rig time. */
  overheatSource(): void {
    this.#source.overheat();
    this.#feelHeat();
  }

  /** The source finds a fault in itself. It is gone at once, but the rig waits for CLEAR. */
  failSource(): void {
    this.#endanger("source-fault");
  }

  /** Pulls the cable: nothing passes until `plugCable`. */
  pullCable(): void {
    this.#voice.deliver();
    this.#cableOut = true;
    for (const handler of this.#pullHandlers) handler();
  }

  /** Plugs the cable in again. */
  plugCable(): void {
    this.#cableOut = false;
    this.#ear.restart();
  }

  // Time.

  #tick(): void {
    if (this.#stopTicking === null) return;
    const nowMs = this.#clock.nowMs();
    this.#watch(nowMs);
    if (this.#shot === null) this.#restUs(this.#pace.grantAtRest(nowMs));
    else this.#simulate(this.#timeUs + this.#pace.grantUnderCurrent(nowMs), nowMs);
    this.#shot?.flushIfDue(nowMs);
    if (this.#shot !== null && this.#pace.isBehind && !this.#pieceWaits) {
      this.#pieceWaits = true;
      this.#clock.soon(() => {
        this.#pieceWaits = false;
        this.#tick();
      });
    }
    this.#feelHeat();
    this.#voice.deliver();
  }

  /** The guards that run on wall time. */
  #watch(nowMs: number): void {
    if (this.#arm !== null && nowMs >= this.#arm.expiresAtMs) {
      this.#expiredToken = this.#arm.token;
      this.#disarm();
    }
    const guarded = this.#state === "on" || this.#state === "armed";
    if (guarded && nowMs - this.#beatAtMs >= beatMs) this.#currentOff("heartbeat-lost");
    if (this.#result !== null && nowMs - this.#result.saidAtMs >= resultRepeatMs) {
      this.#result.saidAtMs = nowMs;
      this.#voice.say(this.#result.message);
    }
  }

  #restUs(microseconds: number): void {
    this.#timeUs += microseconds;
    this.#source.rest(microseconds / 1e6);
    this.#mounted.restUntil(this.rigSeconds);
  }

  #simulate(untilUs: number, wallMs: number): void {
    const shot = this.#shot;
    while (shot !== null && this.#shot === shot) {
      const endUs = this.#onsetUs + shot.elapsedUs + shot.windowUs;
      if (endUs > untilUs) {
        this.#timeUs = Math.max(this.#timeUs, untilUs);
        return;
      }
      shot.step(wallMs);
      this.#timeUs = endUs;
      if (shot.isOff && this.#state === "on") this.#setState("safe");
      if (this.#faultsToCome.size > 0) this.#faultsInTime(shot);
      if (shot.isFinished && this.#shot === shot) this.#finish(shot);
    }
  }

  #finish(shot: RunningShot): void {
    const message = shot.finish();
    this.#voice.say(message);
    this.#result = { message, saidAtMs: this.#clock.nowMs() };
    this.#endShot();
  }

  #faultsInTime(shot: RunningShot): void {
    const due = (name: "silence" | "pull" | "reset", at: number | null) =>
      at !== null && shot.elapsedUs >= at * 1e6 && this.#faultsToCome.delete(name);
    if (due("silence", this.#faults.silenceAt)) {
      shot.flush();
      this.#silentUntilUs = this.#timeUs + this.#faults.silenceFor * 1e6;
    }
    if (due("pull", this.#faults.pullAt)) {
      shot.flush();
      this.pullCable();
    }
    if (due("reset", this.#faults.resetAt)) this.#boot();
  }

  // States.

  get #linePasses(): boolean {
    return this.#stopTicking !== null && !this.#cableOut && this.#timeUs >= this.#silentUntilUs;
  }

  #boot(): void {
    this.#forget();
    this.#bootUs = this.#timeUs;
    this.#voice.say(this.#stateMessage());
  }

  #forget(): void {
    this.#endShot();
    this.#state = "safe";
    this.#arm = null;
    this.#expiredToken = null;
    this.#result = null;
    this.#answered.clear();
    this.#ear.restart();
    this.#voice.restart();
  }

  #endShot(): void {
    if (this.#shot === null) return;
    this.#shot = null;
    this.#mounted.setAsOf(this.rigSeconds);
    this.#pace.startAt(this.#clock.nowMs());
  }

  #setState(state: RigState): void {
    if (state === this.#state) return;
    this.#state = state;
    this.#voice.say(this.#stateMessage());
  }

  #tellState(): void {
    if (this.#stopTicking === null) return;
    this.#voice.say(this.#stateMessage());
    this.#voice.deliver();
  }

  #disarm(): void {
    this.#arm = null;
    if (this.#state === "armed") this.#setState("safe");
  }

  /** Switches the current off, if it is on, and disarms. */
  #currentOff(why: OffReason): void {
    this.#disarm();
    this.#shot?.switchOff(this.#timeUs - this.#onsetUs, why);
    if (this.#state === "on") this.#setState("safe");
  }

  /** Armed or on, a hazard makes a fault that only CLEAR ends; otherwise it is only told. */
  #endanger(why: Hazard | "source-fault"): void {
    if (this.#state === "armed" || this.#state === "on") {
      this.#arm = null;
      this.#shot?.switchOff(this.#timeUs - this.#onsetUs, why);
      this.#setState("fault");
      this.#voice.deliver();
    } else this.#tellState();
  }

  #feelHeat(): void {
    const hazard = this.#hazards.feel(this.#ambientCelsius + this.#source.riseKelvin);
    if (hazard === "begins") this.#endanger("over-temperature");
    else if (hazard === "ends") this.#tellState();
  }

  #demandIdle(what: string): void {
    if (this.#state === "armed" || this.#shot !== null)
      throw new Error(
        `${what} only while the rig is not armed and no shot is under way; it is ${this.#state}`,
      );
  }

  // Commands.

  #take(line: Uint8Array): void {
    this.#watch(this.#clock.nowMs());
    const decoded = decodeLine(line);
    // Without a number that can be trusted there is nobody to answer: the host will say it again.
    if (!decoded.ok && decoded.sequence === null) return;
    const known = this.#answered.find(line);
    const message = decoded.ok ? (decoded.message as HostMessage) : null;
    if (known !== null && message?.verb !== "HELLO") {
      if (message?.verb === "BEAT") this.#voice.say(this.#stateMessage());
      else if (message?.verb === "AGAIN") this.#again(message);
      for (const answer of known) this.#voice.say(answer);
      return;
    }
    if (message?.verb === "HELLO") this.#answered.clear();
    this.#answers = this.#answered.add(line);
    const to = hexWord(decoded.sequence as number);
    if (message === null || messages[message.verb].from !== "host") {
      const unknown = decoded.ok || decoded.code === "unknown-message";
      this.#refuse(to, unknown ? "unknown-message" : "bad-value", decoded.ok ? "" : decoded.detail);
    } else this.#obey(to, message);
    this.#answers = null;
  }

  #obey(to: string, message: HostMessage): void {
    switch (message.verb) {
      case "HELLO":
        this.#obeyHello(to, message.version);
        break;
      case "BEAT":
        this.#beatAtMs = this.#clock.nowMs();
        this.#voice.say(this.#stateMessage());
        break;
      case "ARM":
        this.#obeyArm(to, message);
        break;
      case "FIRE":
        this.#obeyFire(to, message.token);
        break;
      case "STOP":
        this.#reply({ verb: "OK", to });
        this.#currentOff("host-stop");
        break;
      case "CLEAR":
        this.#obeyClear(to);
        break;
      case "AGAIN":
        this.#again(message);
        break;
      case "DONE":
        this.#obeyDone(to, message.shot);
        break;
    }
  }

  #obeyHello(to: string, version: number): void {
    if (version !== protocolVersion)
      this.#refuse(to, "version", `found-${version},accepted-${protocolVersion}`);
    else for (const item of identity(this.#seed, this.#lineHz)) this.#reply(item);
  }

  #obeyArm(to: string, order: ShotOrder): void {
    const refusal = this.#whyNotArm(order);
    if (refusal !== null) {
      this.#refuse(to, refusal.code, refusal.detail);
      return;
    }
    const nowMs = this.#clock.nowMs();
    const token = this.#tokens.uint32().toString(16).toUpperCase().padStart(8, "0");
    this.#arm = { order, token, expiresAtMs: nowMs + tokenMs };
    this.#expiredToken = null;
    this.#beatAtMs = nowMs;
    this.#reply({ verb: "READY", to, shot: order.shot, token, expires: tokenMs });
    this.#setState("armed");
  }

  #whyNotArm(order: ShotOrder): { code: RefusalCode; detail: string } | null {
    if (this.#state === "armed" || this.#state === "on")
      return { code: "not-safe", detail: `found-${this.#state},accepted-safe` };
    const hazard = this.#hazards.present;
    if (hazard !== null) return { code: hazard, detail: "" };
    if (this.#state === "fault") return { code: "fault-present", detail: "accepted-after-CLEAR" };
    const pending = this.#shot?.order ?? this.#result?.message;
    if (pending !== undefined) return { code: "result-pending", detail: `shot-${pending.shot}` };
    const { lowestMilliamps, highestMilliamps } = sourceLimits;
    const outOfRange = (detail: string) => ({ code: "out-of-range", detail }) as const;
    if (order.amps < lowestMilliamps || order.amps > highestMilliamps)
      return outOfRange(`amps-${order.amps},accepted-${lowestMilliamps}-to-${highestMilliamps}`);
    if (order.longest > longestMs) return outOfRange(`longest-${order.longest},accepted-1-to-${longestMs}`);
    const pole = order.loading === "all" ? 1 : Number(order.loading.slice("pole-".length));
    if (pole > this.#mounted.poles) return outOfRange(`${order.loading},poles-${this.#mounted.poles}`);
    return null;
  }

  #obeyFire(to: string, token: string): void {
    if (this.#arm === null || token !== this.#arm.token) {
      const expired = token === this.#expiredToken ? "token-expired" : "not-armed";
      this.#refuse(to, this.#arm === null ? expired : "wrong-token");
      return;
    }
    const { order } = this.#arm;
    this.#arm = null;
    this.#shots += 1;
    const simulation = new ShotSimulation(
      order,
      this.#mounted.forShot(order.rated / 1000),
      this.#source,
      SeededRandom.stream(this.#seed, `shot ${this.#shots}`),
      1_000_000 / this.#lineHz,
      this.#ambientCelsius,
    );
    this.#onsetUs = this.#timeUs;
    this.#pace.startAt(this.#clock.nowMs());
    this.#reply({ verb: "OK", to });
    this.#setState("on");
    this.#shot = new RunningShot(simulation, this.#voice, this.#onsetUs - this.#bootUs);
  }

  #obeyClear(to: string): void {
    const hazard = this.#hazards.present;
    if (this.#state === "fault" && hazard !== null) {
      this.#refuse(to, "fault-present", hazard);
      return;
    }
    this.#reply({ verb: "OK", to });
    if (this.#state === "fault") this.#setState("safe");
  }

  #obeyDone(to: string, shot: number): void {
    const pending = this.#result?.message.shot;
    if (pending !== undefined && pending !== shot) {
      this.#refuse(to, "bad-value", `shot-${shot},accepted-${pending}`);
      return;
    }
    this.#result = null;
    this.#reply({ verb: "OK", to });
  }

  #again({ first, last }: Extract<HostMessage, { verb: "AGAIN" }>): void {
    this.#voice.sayAgain(Number.parseInt(first, 16), Number.parseInt(last, 16));
  }

  #refuse(to: string, code: RefusalCode, detail = ""): void {
    this.#reply({ verb: "REFUSED", to, code, ...(detail === "" ? {} : { detail: fitting(detail) }) });
  }

  /** Says an answer, and remembers it for when the host's line comes again. */
  #reply(message: RigMessage): void {
    this.#answers?.push(message);
    this.#voice.say(message);
  }

  #stateMessage(): RigMessage {
    return {
      verb: "STATE",
      at: Math.round(this.#timeUs - this.#bootUs),
      state: this.#state,
      interlock: this.#hazards.interlockOpen ? "open" : "closed",
      button: this.#hazards.buttonPressed ? "pressed" : "released",
      ambient: Math.round(this.#ambientCelsius * 1000),
      source: Math.round((this.#ambientCelsius + this.#source.riseKelvin) * 1000),
      last: hexWord(this.#voice.newest),
    };
  }
}

function checkedAmbient(celsius: number): number {
  if (celsius >= -40 && celsius <= 85) return celsius;
  throw new RangeError(`ambient must be from -40 to 85 degrees Celsius, found ${celsius}`);
}

/** The detail of a refusal, cut so that its line stays within 128 bytes even if every byte must be escaped. */
function fitting(detail: string): string {
  let room = 60;
  let text = "";
  for (const character of detail) {
    room -= /[!-$&-)+-<>-~]/.test(character) ? 1 : 12;
    if (room < 0) break;
    text += character;
  }
  return text;
}
