import { decodeLine } from "../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../firmware-protocol/codec/encode-line.ts";
import { nextSequence } from "../../firmware-protocol/codec/sequence.ts";
import type { HostMessage, messages, RigMessage } from "../../firmware-protocol/messages.ts";
import { type Link, LinkError } from "../../src/bench/link.ts";

type State = Extract<RigMessage, { verb: "STATE" }>;

/** What a rig of the right kind says of itself, by item, in the order of the wire's description. */
export const goodItems: Readonly<Record<string, string>> = {
  protocol: "1",
  model: "Scripted",
  serial: "S-1",
  firmware: "1",
  "lowest-ma": "1000",
  "highest-ma": "1000000",
  "rms-windows": "cycle",
  "line-hz": "60",
  "raw-hz": "10000",
  "timer-ns": "1000",
  "tick-hz": "1000000",
  channels: "1",
  "beat-ms": "1000",
  "token-ms": "5000",
  "longest-ms": "7200000",
  "kept-lines": "1024",
  emulated: "no",
};

/**
 * A link with nothing behind it but a script: it notes what the host says, and answers as told. By default it identifies
 * itself, tells its state at each heartbeat and consents to every command.
 */
export class ScriptedLink implements Link {
  readonly address = "scripted";
  overruns = 0;
  isOpen = false;
  opened = 0;
  /** Lines the host wrote, newline included, with what they say. */
  readonly written: { bytes: Uint8Array; sequence: number; message: HostMessage }[] = [];
  items: Record<string, string> = { ...goodItems };
  state: State = {
    verb: "STATE",
    at: 1_000_000,
    state: "safe",
    interlock: "closed",
    button: "released",
    ambient: 21_500,
    source: 30_000,
    last: "0000",
  };
  /** Answers one host message; returns whether that is all, or the usual answer is to follow. */
  answer: (message: HostMessage, to: string) => boolean = () => false;
  #sequence = 0;
  #hearLine: (line: Uint8Array) => void = () => {};
  #hearLoss: (reason: string) => void = () => {};

  onLine(handler: (line: Uint8Array) => void): void {
    this.#hearLine = handler;
  }
  onLost(handler: (reason: string) => void): void {
    this.#hearLoss = handler;
  }
  async open(): Promise<void> {
    this.isOpen = true;
    this.opened += 1;
  }
  async close(): Promise<void> {
    this.isOpen = false;
  }

  write(bytes: Uint8Array): void {
    if (!this.isOpen) throw new LinkError(this.address, "is not open");
    const decoded = decodeLine(bytes.subarray(0, -1));
    if (!decoded.ok) throw new Error(`the host wrote what cannot be read: ${decoded.detail}`);
    const message = decoded.message as HostMessage;
    this.written.push({ bytes: bytes.slice(), sequence: decoded.sequence, message });
    const to = decoded.sequence.toString(16).toUpperCase().padStart(4, "0");
    setImmediate(() => {
      if (!this.answer(message, to)) this.#answerAsUsual(message, to);
    });
  }

  said(verb: HostMessage["verb"]): typeof this.written {
    return this.written.filter((line) => line.message.verb === verb);
  }

  /** Says something as the rig, under the next sequence number. */
  say(message: RigMessage): void {
    this.sayLine(this.lineOf(message));
  }

  /** The line of a message under the next sequence number, not said. */
  lineOf(message: RigMessage): Uint8Array {
    const line = encodeLine(this.#sequence, message);
    this.#sequence = nextSequence(this.#sequence);
    return line.subarray(0, -1);
  }

  sayLine(line: Uint8Array): void {
    if (this.isOpen) this.#hearLine(line);
  }

  tellState(change: Partial<State> = {}): void {
    this.state = { ...this.state, at: this.state.at + 1000, ...change };
    this.say(this.state);
  }

  /** Counts lines anew from zero, as after a reset. */
  restartCounting(): void {
    this.#sequence = 0;
  }

  lose(reason: string): void {
    this.isOpen = false;
    this.#hearLoss(reason);
  }

  #answerAsUsual(message: HostMessage, to: string): void {
    switch (message.verb) {
      case "HELLO": {
        const entries = Object.entries(this.items);
        for (const [item, value] of [...entries, ["end", String(entries.length)] as const])
          this.say({ verb: "IDENT", item: item as (typeof messages.IDENT.fields.item.of)[number], value });
        return;
      }
      case "BEAT":
        this.tellState();
        return;
      case "ARM":
        this.say({ verb: "READY", to, shot: message.shot, token: "12345678", expires: 5000 });
        return;
      case "AGAIN":
        return;
      default:
        this.say({ verb: "OK", to });
    }
  }
}
