import { encodeLine } from "../../firmware-protocol/codec/encode-line.ts";
import { nextSequence } from "../../firmware-protocol/codec/sequence.ts";
import { type HostMessage, protocolVersion, type RigMessage } from "../../firmware-protocol/messages.ts";
import type { RigIdentity } from "../contract/ledger-entries.ts";
import { EventHub } from "./event-hub.ts";
import { freshHealth, type LineHealth } from "./line-health.ts";
import { LineIntake } from "./line-intake.ts";
import type { Arrival, LineRange } from "./line-order.ts";
import type { Link } from "./link.ts";
import { type Consent, PendingCommands } from "./pending-commands.ts";
import { type IdentityItem, type RigDescription, readIdentity } from "./read-identity.ts";
import { RigRefusal, RigUnreachable, RigUnsuitable } from "./rig-error.ts";
import type { RigState, SessionEvents, ShotReservation } from "./session-events.ts";
import { type SessionTiming, usualTiming } from "./session-timing.ts";

const shotEvents = { SAMPLE: "sample", EVENT: "event", RAW: "raw", RESULT: "result" } as const;

/**
 * The talk with one rig over one link: identifies it, keeps its heartbeat, repeats commands until they are answered, asks
 * again for lines that are missing, and tells the lines of a shot in order.
 *
 * When the line is lost, or the rig restarts, the connection ends and with it the heartbeat, without which a rig switches
 * the current off by itself. `connect` may then be called again; it puts the rig into a safe state and continues nothing.
 */
export class RigSession {
  readonly link: Link;
  readonly #timing: SessionTiming;
  readonly #hub = new EventHub<SessionEvents>();
  readonly #health = freshHealth();
  readonly #intake: LineIntake;
  readonly #commands: PendingCommands;
  #phase: "closed" | "identifying" | "connected" = "closed";
  #sequence = 0;
  #helloSequence = 0;
  #items = new Map<IdentityItem, string>();
  #description: RigDescription | null = null;
  #state: RigState | null = null;
  #ending: Promise<void> = Promise.resolve();
  #beatMs = 0;
  #beatTimer: NodeJS.Timeout | null = null;
  #silentBeats = 0;
  #claimed: number | null = null;
  #expected: number | null = null;
  readonly #acknowledging = new Map<number, Promise<void>>();

  constructor(link: Link, timing: Partial<SessionTiming> = {}) {
    this.link = link;
    this.#timing = { ...usualTiming, ...timing };
    this.#commands = new PendingCommands(
      (line) => link.write(line),
      this.#timing.answerMs,
      this.#timing.repeats,
    );
    this.#intake = new LineIntake(this.#timing, this.#health, {
      heard: (message, kind, newest) => this.#hear(message, kind, newest),
      inOrder: (message) => {
        if (this.#phase === "connected") this.#hub.tell(shotEvents[message.verb], message as never);
      },
      ask: (range) => this.#ask(range),
      restarted: () => {
        if (this.#phase === "connected") this.#lose("the rig restarted");
        else this.#intake.restart();
      },
    });
    link.onLine((line) => {
      if (this.#phase !== "closed") this.#intake.take(line);
    });
    link.onLost((reason) => this.#lose(reason));
  }

  /** True between a `connect` that succeeded and the loss or the closing of the line. */
  get connected(): boolean {
    return this.#phase === "connected";
  }

  /** What the rig said of itself; null before the first connection. */
  get identity(): RigIdentity | null {
    return this.#description?.identity ?? null;
  }

  /** The newest state heard; null before the first connection. */
  get state(): RigState | null {
    return this.#state;
  }

  get health(): LineHealth {
    return { ...this.#health, overruns: this.link.overruns };
  }

  /** Number of lines that are missing now and may still come. */
  get missingNow(): number {
    return this.#intake.missing;
  }

  /** Adds a listener and returns the function that takes it away again. */
  on<K extends keyof SessionEvents>(name: K, listener: (value: SessionEvents[K]) => void): () => void {
    return this.#hub.on(name, listener);
  }

  /**
   * Opens the link, identifies the rig, begins the heartbeat and makes sure that no current flows.
   *
   * @throws LinkError if the link cannot be opened, RigUnsuitable for a rig of another protocol version or one that
   *   contradicts itself, RigUnreachable if nothing answers; the link is then closed
   */
  async connect(): Promise<RigIdentity> {
    if (this.#phase !== "closed") throw new Error(`${this.link.address} is connected already`);
    await this.#ending;
    this.#intake.restart();
    this.#items.clear();
    this.#state = null;
    this.#silentBeats = 0;
    await this.link.open();
    try {
      this.#phase = "identifying";
      this.#description = readIdentity(await this.#identify());
      this.#intake.settleHere();
      this.#phase = "connected";
      // Two beats may be lost on the line before the rig misses one.
      this.#beatMs = Math.max(1, Math.min(this.#timing.beatMs, Math.floor(this.#description.beatMs / 3)));
      this.#beatTimer = setInterval(() => this.#beat(), this.#beatMs);
      await this.#makeSafe();
      return this.#description.identity;
    } catch (error) {
      await this.#end("the rig could not be identified");
      throw error;
    }
  }

  /**
   * Sends a command and waits until the rig has carried it out.
   *
   * @throws RigRefusal if it refuses, RigUnreachable if it does not answer or the line goes, LinkError if it is gone
   */
  async command(
    message: Extract<HostMessage, { verb: "ARM" | "FIRE" | "STOP" | "CLEAR" | "DONE" }>,
  ): Promise<Consent> {
    if (this.#phase !== "connected")
      throw new RigUnreachable(
        `${message.verb} was not sent: the rig at ${this.link.address} is not connected`,
      );
    return this.#send(message);
  }

  /** Leaves the rig's fault state once its cause is gone. Throws as `command` does. */
  async clear(): Promise<void> {
    await this.command({ verb: "CLEAR" });
  }

  /**
   * Reserves the session for one shot.
   *
   * @throws Error if another shot has it
   */
  claim(shot: number): ShotReservation {
    if (this.#claimed !== null)
      throw new Error(`shot ${shot} cannot begin: shot ${this.#claimed} is on; only one shot at a time`);
    this.#claimed = shot;
    return {
      expectResult: () => {
        this.#expected = shot;
      },
      release: () => {
        this.#claimed = null;
        this.#expected = null;
      },
    };
  }

  /** Tells the rig that the result of a shot has arrived. Settles when the rig has answered, or will not any more. */
  acknowledge(shot: number): Promise<void> {
    if (this.#phase !== "connected") return Promise.resolve();
    const underWay = this.#acknowledging.get(shot);
    if (underWay !== undefined) return underWay;
    const acknowledged = this.#send({ verb: "DONE", shot }).then(
      () => {},
      () => {},
    );
    this.#acknowledging.set(shot, acknowledged);
    return acknowledged.finally(() => this.#acknowledging.delete(shot));
  }

  /** Current off and disarm, in any state. Throws as `command` does. */
  async stop(): Promise<void> {
    await this.command({ verb: "STOP" });
  }

  /** Switches the current off if it may be on, then ends the connection. Safe to call at any time. */
  async close(): Promise<void> {
    if (this.#phase === "connected" && this.#state?.state !== "safe" && this.#state?.state !== "fault")
      await this.#send({ verb: "STOP" }).catch(() => {});
    await this.#end("the session was closed");
  }

  /** Ends the connection as lost: what the rig does can no longer be told. Without heartbeat it goes safe by itself. */
  abandon(reason: string): void {
    this.#lose(reason);
  }

  async #identify(): Promise<ReadonlyMap<IdentityItem, string>> {
    try {
      await this.#send({ verb: "HELLO", version: protocolVersion });
    } catch (error) {
      if (error instanceof RigRefusal)
        throw new RigUnsuitable(
          `the rig at ${this.link.address} does not speak protocol version ${protocolVersion}, the only one accepted: ${error.message}`,
        );
      if (error instanceof RigUnreachable)
        throw new RigUnreachable(
          `nothing that speaks as a rig answers at ${this.link.address}: ${error.message}`,
          {
            cause: error,
          },
        );
      throw error;
    }
    return this.#items;
  }

  /** Waits for the rig's state; where current may flow or is about to, switches it off. */
  async #makeSafe(): Promise<void> {
    const first = await this.#awaitState(() => true);
    if (first.state !== "on" && first.state !== "armed") return;
    await this.#send({ verb: "STOP" });
    await this.#awaitState((state) => state.state === "safe" || state.state === "fault");
  }

  async #awaitState(wanted: (state: RigState) => boolean): Promise<RigState> {
    const patienceMs = this.#timing.answerMs * (this.#timing.repeats + 1);
    return new Promise((resolve, reject) => {
      const leave = [this.on("state", (state) => wanted(state) && finish(() => resolve(state)))];
      const finish = (then: () => void): void => {
        clearTimeout(timer);
        for (const off of leave) off();
        then();
      };
      const fail = (why: string): void => finish(() => reject(new RigUnreachable(why)));
      leave.push(this.on("lost", fail));
      const found = () => (this.#state === null ? "none" : `"${this.#state.state}"`);
      const timer = setTimeout(
        () =>
          fail(`the rig did not tell a safe state within ${patienceMs} ms; the last it told was ${found()}`),
        patienceMs,
      );
      this.#write({ verb: "BEAT" });
    });
  }

  async #send(message: HostMessage): Promise<Consent> {
    // Nothing may switch on what STOP switches off: what was under way is not repeated any more.
    if (message.verb === "STOP") this.#commands.cancel(["ARM", "FIRE"], "it was overtaken by STOP");
    const sequence = this.#takeSequence();
    if (message.verb === "HELLO") this.#helloSequence = sequence;
    return this.#commands.send(sequence, message.verb, encodeLine(sequence, message));
  }

  #write(message: HostMessage): void {
    this.link.write(encodeLine(this.#takeSequence(), message));
  }

  #takeSequence(): number {
    const sequence = this.#sequence;
    this.#sequence = nextSequence(sequence);
    return sequence;
  }

  #beat(): void {
    if (this.#silentBeats >= this.#timing.silentBeats) {
      const silentMs = this.#silentBeats * this.#beatMs;
      this.#lose(`${this.link.address}: nothing was heard from the rig for ${silentMs} ms`);
      return;
    }
    this.#silentBeats += 1;
    this.#tryWrite({ verb: "BEAT" });
    if (this.#phase === "connected") this.#hub.tell("health", this.health);
  }

  #ask(range: LineRange): void {
    if (this.#phase === "connected")
      this.#tryWrite({ verb: "AGAIN", first: sequenceWord(range.first), last: sequenceWord(range.last) });
  }

  /** Writes what nobody waits for; a link that does not take it is lost. */
  #tryWrite(message: HostMessage): void {
    try {
      this.#write(message);
    } catch (error) {
      this.#lose(error instanceof Error ? error.message : String(error));
    }
  }

  #hear(message: RigMessage, kind: Arrival<unknown>["kind"], newest: boolean): void {
    this.#silentBeats = 0;
    switch (message.verb) {
      case "OK":
      case "READY":
      case "REFUSED":
        this.#commands.take(message);
        break;
      case "IDENT":
        this.#items.set(message.item, message.value);
        if (this.#phase === "identifying" && this.#items.get("end") === String(this.#items.size - 1))
          this.#commands.take({ verb: "OK", to: sequenceWord(this.#helloSequence) });
        break;
      case "STATE":
        if (this.#phase !== "connected" || !newest || kind !== "fresh") break;
        this.#state = message;
        this.#hub.tell("state", message);
        break;
      case "RESULT":
        // Of a shot that ended without it: the rig repeats it, and arms for no other, until it is acknowledged.
        if (message.shot !== this.#expected) void this.acknowledge(message.shot);
        break;
      default:
        break;
    }
  }

  #lose(reason: string): void {
    const wasConnected = this.#phase === "connected";
    // The line may carry in one direction still.
    if (wasConnected && this.#state?.state !== "safe")
      try {
        this.#write({ verb: "STOP" });
      } catch {}
    void this.#end(reason);
    if (wasConnected) this.#hub.tell("lost", reason);
  }

  async #end(reason: string): Promise<void> {
    this.#phase = "closed";
    if (this.#beatTimer !== null) clearInterval(this.#beatTimer);
    this.#beatTimer = null;
    this.#intake.stop();
    this.#commands.abandon(reason);
    this.#ending = this.link.close();
    await this.#ending;
  }
}

function sequenceWord(sequence: number): string {
  return sequence.toString(16).toUpperCase().padStart(4, "0");
}
