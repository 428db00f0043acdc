import type { HostMessage, RigMessage } from "../../firmware-protocol/messages.ts";
import { RigRefusal, RigUnreachable } from "./rig-error.ts";

/** A rig's consent to a command. */
export type Consent = Extract<RigMessage, { verb: "OK" | "READY" }>;
type Answer = Consent | Extract<RigMessage, { verb: "REFUSED" }>;

type Pending = {
  verb: HostMessage["verb"];
  line: Uint8Array;
  repeatsLeft: number;
  timer: NodeJS.Timeout;
  resolve: (answer: Consent) => void;
  reject: (error: Error) => void;
};

/**
 * Commands that wait for their answer. Each is repeated, byte for byte, until it is answered or its repeats are used up; the
 * rig knows a repeat by its sequence number and carries it out once.
 */
export class PendingCommands {
  readonly #write: (line: Uint8Array) => void;
  readonly #answerMs: number;
  readonly #repeats: number;
  readonly #pending = new Map<string, Pending>();

  constructor(write: (line: Uint8Array) => void, answerMs: number, repeats: number) {
    this.#write = write;
    this.#answerMs = answerMs;
    this.#repeats = repeats;
  }

  /**
   * Writes a command and waits for its answer.
   *
   * @throws LinkError if it cannot be written, RigRefusal, RigUnreachable if it stays unanswered or the line goes
   */
  async send(sequence: number, verb: HostMessage["verb"], line: Uint8Array): Promise<Consent> {
    const key = keyOf(sequence);
    const answered = new Promise<Consent>((resolve, reject) => {
      const timer = setInterval(() => this.#repeat(key), this.#answerMs);
      this.#pending.set(key, { verb, line, repeatsLeft: this.#repeats, timer, resolve, reject });
    });
    this.#writeOrReject(key, line);
    return answered;
  }

  /** Takes an answer; one that nobody waits for is ignored. */
  take(answer: Answer): void {
    const pending = this.#settle(answer.to);
    if (pending === undefined) return;
    if (answer.verb === "REFUSED")
      pending.reject(new RigRefusal(pending.verb, answer.code, answer.detail ?? null));
    else pending.resolve(answer);
  }

  /** Ends all waiting: the line is gone. */
  abandon(reason: string): void {
    this.cancel(null, reason);
  }

  /** Ends the waiting and the repeating of commands with these verbs, or of all. */
  cancel(verbs: readonly HostMessage["verb"][] | null, reason: string): void {
    for (const [key, { verb }] of [...this.#pending]) {
      if (verbs !== null && !verbs.includes(verb)) continue;
      this.#settle(key)?.reject(new RigUnreachable(`${verb} was not answered: ${reason}`));
    }
  }

  #repeat(key: string): void {
    const pending = this.#pending.get(key);
    if (pending === undefined) return;
    if (pending.repeatsLeft === 0) {
      this.#settle(key);
      const tries = this.#repeats + 1;
      pending.reject(
        new RigUnreachable(
          `the rig did not answer ${pending.verb}, sent ${tries} times, ${this.#answerMs} ms apart`,
        ),
      );
      return;
    }
    pending.repeatsLeft -= 1;
    this.#writeOrReject(key, pending.line);
  }

  #writeOrReject(key: string, line: Uint8Array): void {
    try {
      this.#write(line);
    } catch (error) {
      this.#settle(key)?.reject(error instanceof Error ? error : new Error(String(error)));
    }
  }

  #settle(key: string): Pending | undefined {
    const pending = this.#pending.get(key);
    if (pending !== undefined) clearInterval(pending.timer);
    this.#pending.delete(key);
    return pending;
  }
}

function keyOf(sequence: number): string {
  return sequence.toString(16).toUpperCase().padStart(4, "0");
}
