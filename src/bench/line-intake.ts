import { crc16 } from "../../firmware-protocol/codec/crc16.ts";
import { decodeLine } from "../../firmware-protocol/codec/decode-line.ts";
import { messages, type RigMessage } from "../../firmware-protocol/messages.ts";
import type { LineHealth } from "./line-health.ts";
import { type Arrival, LineOrder, type LineRange } from "./line-order.ts";
import type { SessionTiming } from "./session-timing.ts";

/** Lines of a shot, whose order matters. */
export type ShotLine = Extract<RigMessage, { verb: "SAMPLE" | "EVENT" | "RAW" | "RESULT" }>;

/** Who is told what by an intake. */
export interface IntakeListener {
  /** Every readable message, as soon as it is there, even one that came before; `newest` if nothing newer was heard. */
  heard(message: RigMessage, kind: Arrival<unknown>["kind"], newest: boolean): void;
  /** The lines of a shot, in the order in which the rig sent them, each once. */
  inOrder(message: ShotLine): void;
  /** Lines are missing; they should be asked for again. */
  ask(range: LineRange): void;
  /** The rig counts its lines anew: it is not the rig that it was. */
  restarted(): void;
}

/** No two lines of one rig are further apart than this, whatever is lost between them. */
const windowLines = 8192;
const mostAskedAtOnce = 64;
/** Lines in a row that fit nothing heard before, after which it is certain that the rig counts anew. */
const strangeLines = 2;
const shotVerbs: ReadonlySet<string> = new Set(["SAMPLE", "EVENT", "RAW", "RESULT"]);

/** Reads the lines that come from a rig, counts what is wrong with them, and puts those of a shot in order. */
export class LineIntake {
  readonly #listener: IntakeListener;
  readonly #health: LineHealth;
  readonly #order: LineOrder<ShotLine>;
  #timer: NodeJS.Timeout | null = null;
  #strangeInARow = 0;
  #newestStateUs = 0;

  constructor(timing: SessionTiming, health: LineHealth, listener: IntakeListener) {
    this.#listener = listener;
    this.#health = health;
    this.#order = new LineOrder({
      window: windowLines,
      mostHeld: windowLines,
      tries: timing.askTries,
      retryMs: timing.askAgainMs,
      mostAsked: mostAskedAtOnce,
    });
  }

  /** Number of lines that are missing and not yet given up. */
  get missing(): number {
    return this.#order.missing;
  }

  /** Forgets all that was heard, as on a new connection. */
  restart(): void {
    this.stop();
    this.#order.restart();
    this.#strangeInARow = 0;
    this.#newestStateUs = 0;
  }

  /** Waits for nothing older than the newest line. */
  settleHere(): void {
    this.stop();
    this.#order.settleHere();
  }

  /** Clears the timer; the next missing line starts it again. */
  stop(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }

  /** Takes one line without its newline. Never throws, whatever the bytes. */
  take(line: Uint8Array): void {
    const decoded = decodeLine(line);
    if (!decoded.ok) {
      this.#health.damaged += 1;
      this.#health.lastProblem = `${decoded.code}: ${decoded.detail}`;
      // The check held, so the line is as the rig sent it; asking for it again would bring the same.
      if (decoded.sequence !== null) this.#place(decoded.sequence, line, null);
      return;
    }
    const { sequence, message } = decoded;
    if (!isFromRig(message)) {
      this.#health.damaged += 1;
      this.#health.lastProblem = `a ${message.verb} came back, which only the host says: the line echoes`;
      return;
    }
    const arrival = this.#place(sequence, line, isOfShot(message) ? message : null);
    if (arrival.kind === "fresh") this.#health.good += 1;
    else if (arrival.kind !== "strange") this.#health.duplicates += 1;

    if (this.#isStrange(message, arrival)) {
      this.#strangeInARow += 1;
      this.#health.lastProblem = `a ${message.verb} came that cannot follow the lines before it`;
    } else if (arrival.kind === "fresh") this.#strangeInARow = 0;
    this.#listener.heard(message, arrival.kind, arrival.newest);
    if (message.verb === "GONE") {
      const given = this.#order.gone({
        first: Number.parseInt(message.first, 16),
        last: Number.parseInt(message.last, 16),
      });
      this.#handOn(given.deliver, given.lost);
    }
    this.#handOn(arrival.deliver, arrival.lost);
    if (this.#strangeInARow >= strangeLines) {
      this.#strangeInARow = 0;
      this.#listener.restarted();
    }
  }

  #place(sequence: number, line: Uint8Array, item: ShotLine | null): Arrival<ShotLine> {
    const fingerprint = crc16(line) * 256 + line.length;
    const arrival = this.#order.accept(sequence, fingerprint, item, performance.now());
    if (arrival.recovered) this.#health.recovered += 1;
    if (this.#order.missing > 0 && this.#timer === null) this.#timer = setTimeout(() => this.#askAgain(), 1);
    return arrival;
  }

  /** A number that cannot be, or a rig clock that ran backwards: a rig that lost power counts and times from nothing. */
  #isStrange(message: RigMessage, arrival: Arrival<ShotLine>): boolean {
    if (arrival.kind === "strange") return true;
    if (message.verb !== "STATE" || !arrival.newest) return false;
    if (message.at < this.#newestStateUs) return true;
    this.#newestStateUs = message.at;
    return false;
  }

  #askAgain(): void {
    this.#timer = null;
    const due = this.#order.due(performance.now());
    for (const range of due.ask) {
      this.#health.askedAgain += ((range.last - range.first + 65_536) % 65_536) + 1;
      this.#listener.ask(range);
    }
    this.#handOn(due.deliver, due.lost);
    if (this.#order.missing > 0 && this.#timer === null) this.#timer = setTimeout(() => this.#askAgain(), 20);
  }

  #handOn(lines: readonly ShotLine[], lost: number): void {
    if (lost > 0) {
      this.#health.missing += lost;
      this.#health.lastProblem = `${lost} lines are missing and were given up`;
    }
    for (const line of lines) this.#listener.inOrder(line);
  }
}

function isFromRig(message: { verb: keyof typeof messages }): message is RigMessage {
  return messages[message.verb].from === "rig";
}

function isOfShot(message: RigMessage): message is ShotLine {
  return shotVerbs.has(message.verb);
}
