import { encodeLine } from "../codec/encode-line.ts";
import type { RigMessage } from "../messages.ts";
import type { FaultyLine } from "./faulty-line.ts";
import { KeptLines } from "./kept-lines.ts";

/**
 * All that the rig says: numbers its lines, keeps them for AGAIN, and sends them over a line that may be faulty.
 *
 * Lines gather until `deliver`, so that nobody who listens can interrupt the rig in the middle of a thought.
 */
export class RigVoice {
  readonly #line: FaultyLine | null;
  readonly #passes: () => boolean;
  readonly #handlers: ((bytes: Uint8Array) => void)[] = [];
  #kept = new KeptLines();
  #outbox: Uint8Array[] = [];
  #delivering = false;

  /**
   * @param line the faults of the line, or null for none
   * @param passes whether anything said now gets as far as the line
   */
  constructor(line: FaultyLine | null, passes: () => boolean) {
    this.#line = line;
    this.#passes = passes;
  }

  /** Sequence number of the newest line. */
  get newest(): number {
    return this.#kept.newest;
  }

  /** Calls `handler` with all that arrives at the host's end from now on. */
  listen(handler: (bytes: Uint8Array) => void): void {
    this.#handlers.push(handler);
  }

  /** Says a message as a new line. */
  say(message: RigMessage): void {
    const line = encodeLine(this.#kept.next, message);
    this.#kept.keep(line);
    this.#send(line);
  }

  /** Says the lines `first` to `last` again, and GONE for those that are not kept. */
  sayAgain(first: number, last: number): void {
    const { lines, gone } = this.#kept.find(first, last);
    for (const line of lines) this.#send(line);
    for (const run of gone) this.say({ verb: "GONE", first: hexWord(run.first), last: hexWord(run.last) });
  }

  /** Loses what has not yet been delivered. */
  discard(): void {
    this.#outbox = [];
  }

  /** Forgets what was said; the next line is number 0000. Lines already on their way still arrive. */
  restart(): void {
    this.#kept = new KeptLines();
  }

  /** Hands out what has gathered. */
  deliver(): void {
    if (this.#delivering) return;
    this.#delivering = true;
    try {
      while (this.#outbox.length > 0) {
        const bytes = joined(this.#outbox);
        this.#outbox = [];
        for (const handler of this.#handlers) handler(bytes);
      }
    } finally {
      this.#delivering = false;
    }
  }

  #send(line: Uint8Array): void {
    if (!this.#passes()) return;
    if (this.#line === null) this.#outbox.push(line);
    else this.#outbox.push(...this.#line.carry(line));
  }
}

/** A sequence number as the wire writes it. */
export function hexWord(sequence: number): string {
  return sequence.toString(16).toUpperCase().padStart(4, "0");
}

function joined(lines: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(lines.reduce((sum, line) => sum + line.length, 0));
  let at = 0;
  for (const line of lines) {
    bytes.set(line, at);
    at += line.length;
  }
  return bytes;
}
