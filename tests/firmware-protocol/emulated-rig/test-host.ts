import { decodeLine } from "../../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";
import { LineSplitter } from "../../../firmware-protocol/codec/line-splitter.ts";
import type { BreakerProfile } from "../../../firmware-protocol/emulated-rig/breaker-profile.ts";
import { breakerByName } from "../../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import {
  EmulatedRig,
  type EmulatedRigOptions,
} from "../../../firmware-protocol/emulated-rig/emulated-rig.ts";
import type { HostMessage, RigMessage } from "../../../firmware-protocol/messages.ts";
import { HandTurnedClock } from "./hand-turned-clock.ts";

export type Verb = RigMessage["verb"];
export type Said<V extends Verb> = Extract<RigMessage, { verb: V }>;
type ArmFields = Partial<Extract<HostMessage, { verb: "ARM" }>>;

/** A host, its rig and their clock, for tests: sends what it is told and notes all that it hears. */
export class TestHost {
  readonly clock = new HandTurnedClock();
  readonly rig: EmulatedRig;
  readonly lines: { bytes: Uint8Array; sequence: number; message: RigMessage }[] = [];
  damaged = 0;
  beats = true;
  #sequence = 0;
  readonly #splitter = new LineSplitter();

  constructor(
    options: Partial<Omit<EmulatedRigOptions, "breaker">> & { breaker?: BreakerProfile | string } = {},
  ) {
    const { breaker = "sound", ...rest } = options;
    this.rig = new EmulatedRig({
      seed: 1,
      speed: 1,
      ratedAmps: 20,
      ...rest,
      breaker: typeof breaker === "string" ? breakerByName(breaker) : breaker,
      clock: this.clock,
    });
    this.rig.onBytes((bytes) => this.#hear(bytes));
    this.rig.start();
  }

  /** Sends a message as a new line. @returns the line */
  send(message: HostMessage): Uint8Array {
    const line = encodeLine(this.#sequence, message);
    this.#sequence = (this.#sequence + 1) % 65_536;
    this.rig.receive(line);
    return line;
  }

  /** Lets wall time pass with a heartbeat four times a second, unless `beats` is off. */
  pass(milliseconds: number): void {
    for (let left = milliseconds; left > 0; left -= 250) {
      if (this.beats) this.send({ verb: "BEAT" });
      this.clock.turn(Math.min(250, left));
    }
  }

  /** Arms. @returns the answer */
  arm(fields: ArmFields = {}): Said<"READY"> | Said<"REFUSED"> {
    const from = this.lines.length;
    this.send({
      verb: "ARM",
      shot: 1,
      amps: 40_000,
      rated: 20_000,
      longest: 120_000,
      loading: "pole-1",
      every: "cycle",
      raw: 0,
      ...fields,
    });
    const answer = this.lines
      .slice(from)
      .map((line) => line.message)
      .find((message) => message.verb === "READY" || message.verb === "REFUSED");
    if (answer?.verb === "READY" || answer?.verb === "REFUSED") return answer;
    throw new Error("ARM was not answered");
  }

  /** Arms and fires. */
  fire(fields: ArmFields = {}): void {
    const ready = this.arm(fields);
    if (ready.verb !== "READY") throw new Error(`ARM was refused: ${ready.code} ${ready.detail ?? ""}`);
    this.send({ verb: "FIRE", token: ready.token });
  }

  /** Arms, fires, waits for the result and acknowledges it. @returns the result */
  shoot(fields: ArmFields = {}, patienceMs = 600_000): Said<"RESULT"> {
    const from = this.lines.length;
    this.fire(fields);
    for (let passed = 0; passed < patienceMs; passed += 250) {
      this.pass(250);
      const result = this.lines.slice(from).find((line) => line.message.verb === "RESULT")?.message;
      if (result?.verb !== "RESULT") continue;
      this.send({ verb: "DONE", shot: result.shot });
      return result;
    }
    throw new Error(`no RESULT within ${patienceMs} ms`);
  }

  /** All that was said with this verb. */
  said<V extends Verb>(verb: V): Said<V>[] {
    return this.lines.map((line) => line.message).filter((message) => message.verb === verb) as Said<V>[];
  }

  /** The newest of those. */
  last<V extends Verb>(verb: V): Said<V> {
    const found = this.said(verb).at(-1);
    if (found === undefined) throw new Error(`the rig has not said ${verb}`);
    return found;
  }

  /** The newest STATE's word. */
  get state(): string {
    return this.last("STATE").state;
  }

  /** Every true RMS value with the end of its window on the rig's clock, us. */
  samples(): { endUs: number; milliamps: number }[] {
    return this.said("SAMPLE").flatMap(({ t0, step, values }) =>
      values.map((milliamps, index) => ({ endUs: t0 + index * step, milliamps })),
    );
  }

  /** Forgets what was heard so far. */
  forget(): void {
    this.lines.length = 0;
  }

  #hear(bytes: Uint8Array): void {
    for (const line of this.#splitter.push(bytes)) {
      const decoded = decodeLine(line);
      if (!decoded.ok) this.damaged += 1;
      else
        this.lines.push({
          bytes: line.slice(),
          sequence: decoded.sequence,
          message: decoded.message as RigMessage,
        });
    }
  }
}
