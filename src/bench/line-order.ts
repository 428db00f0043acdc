import { sequenceDistance, sequenceModulus } from "../../firmware-protocol/codec/sequence.ts";

/** What became of a line that arrived, and which lines can be handed on because of it, in order. */
export interface Arrival<T> {
  /**
   * `fresh`: not heard before. `duplicate`: the same line again. `late`: given up before it came. `strange`: it cannot
   * follow what was heard; its number was used for another line, or lies too far away.
   */
  kind: "fresh" | "duplicate" | "late" | "strange";
  deliver: T[];
  /** True for a fresh line that fills a gap which was asked for. */
  recovered: boolean;
  /** True for a fresh line that was sent after all others heard so far. */
  newest: boolean;
  /** Lines given up because too many were waiting behind them. */
  lost: number;
}

/** Lines to ask for again, by sequence number, both inclusive. */
export interface LineRange {
  first: number;
  last: number;
}

export interface OrderLimits {
  /** How far apart, in lines, two sequence numbers may be and still be counted from the same start; below 32768. */
  window: number;
  /** Lines held back at most while an earlier one is missing. */
  mostHeld: number;
  /** How often one line is asked for before it is given up. */
  tries: number;
  /** Time between two requests for one line. */
  retryMs: number;
  /** Lines in one request, at most. */
  mostAsked: number;
}

type Wanted = { tries: number; askAtMs: number };
const lostMark = -1;

function useless<T>(kind: "duplicate" | "late" | "strange"): Arrival<T> {
  return { kind, deliver: [], recovered: false, newest: false, lost: 0 };
}

/**
 * Puts lines back into the order of their sequence numbers: finds those that are missing, says when to ask for them again,
 * holds later ones back until they are there or given up, and drops those that come twice. Pure: the caller brings time.
 *
 * Inside, sequence numbers are counted on beyond 65535, so that order is plain order.
 */
export class LineOrder<T> {
  readonly #limits: OrderLimits;
  /** Position of the next line to hand on; null before the first line. */
  #next: number | null = null;
  /** One past the newest position heard. */
  #end = 0;
  #held = new Map<number, T | null>();
  #wanted = new Map<number, Wanted>();
  /** Fingerprints of lines by position, for the last `window` positions; `lostMark` for one given up. */
  #heard = new Map<number, number>();

  constructor(limits: OrderLimits) {
    this.#limits = limits;
  }

  /** Number of lines known to be missing and not yet given up. */
  get missing(): number {
    return this.#wanted.size;
  }

  /** Forgets everything; the next line is the first. */
  restart(): void {
    this.#next = null;
    this.#end = 0;
    this.#held.clear();
    this.#wanted.clear();
    this.#heard.clear();
  }

  /** Stops waiting for anything older than the newest line; what was held back is dropped. */
  settleHere(): void {
    if (this.#next !== null) this.#next = this.#end;
    this.#held.clear();
    for (const position of this.#wanted.keys()) this.#heard.set(position, lostMark);
    this.#wanted.clear();
  }

  /**
   * Takes one line. `fingerprint` tells lines of the same number apart; `item` is what to hand on in its turn, null for a
   * line that only fills its place.
   */
  accept(sequence: number, fingerprint: number, item: T | null, nowMs: number): Arrival<T> {
    this.#next ??= sequence;
    if (this.#end < this.#next) this.#end = this.#next;
    const position = this.#positionOf(sequence);
    const known = this.#heard.get(position);
    if (known === fingerprint) return useless("duplicate");
    if (known === lostMark) return useless("late");
    const ahead = position - this.#end;
    if (known !== undefined || position < this.#next || ahead > this.#limits.window)
      return useless("strange");

    const newest = ahead >= 0;
    const recovered = (this.#wanted.get(position)?.tries ?? 0) > 0;
    this.#wanted.delete(position);
    for (let gap = this.#end; gap < position; gap += 1) this.#wanted.set(gap, { tries: 0, askAtMs: nowMs });
    this.#end = Math.max(this.#end, position + 1);
    this.#remember(position, fingerprint);
    this.#held.set(position, item);
    const deliver = this.#released();
    let lost = 0;
    while (this.#held.size > this.#limits.mostHeld) lost += this.#giveUpOldest(deliver);
    return { kind: "fresh", deliver, recovered, newest, lost };
  }

  /** What is due now: ranges to ask for again, and what is handed on because lines were given up after their last try. */
  due(nowMs: number): { ask: LineRange[]; deliver: T[]; lost: number } {
    const ask: LineRange[] = [];
    let lost = 0;
    let lastAsked = Number.NaN;
    let length = 0;
    for (const [position, wanted] of [...this.#wanted].sort(([a], [b]) => a - b)) {
      if (wanted.askAtMs > nowMs) continue;
      if (wanted.tries >= this.#limits.tries) {
        this.#giveUp(position);
        lost += 1;
        continue;
      }
      wanted.tries += 1;
      wanted.askAtMs = nowMs + this.#limits.retryMs;
      const sequence = position % sequenceModulus;
      const range = ask.at(-1);
      if (range !== undefined && position === lastAsked + 1 && length < this.#limits.mostAsked) {
        range.last = sequence;
        length += 1;
      } else {
        ask.push({ first: sequence, last: sequence });
        length = 1;
      }
      lastAsked = position;
    }
    return { ask, deliver: lost > 0 ? this.#released() : [], lost };
  }

  /** The sender no longer keeps these lines: they are given up. */
  gone(range: LineRange): { deliver: T[]; lost: number } {
    let lost = 0;
    const first = this.#positionOf(range.first);
    const count = sequenceDistance(range.first, range.last) + 1;
    for (const position of [...this.#wanted.keys()]) {
      if (position < first || position >= first + count) continue;
      this.#giveUp(position);
      lost += 1;
    }
    return { deliver: this.#released(), lost };
  }

  /** The position nearest to the newest line that has this sequence number. */
  #positionOf(sequence: number): number {
    const from = this.#end;
    const forward = sequenceDistance(from % sequenceModulus, sequence);
    return from + (forward < sequenceModulus / 2 ? forward : forward - sequenceModulus);
  }

  #released(): T[] {
    const deliver: T[] = [];
    if (this.#next === null) return deliver;
    for (;;) {
      const item = this.#held.get(this.#next);
      if (item === undefined) {
        if (this.#heard.get(this.#next) !== lostMark) return deliver;
      } else if (item !== null) deliver.push(item);
      this.#held.delete(this.#next);
      this.#next += 1;
    }
  }

  #giveUpOldest(deliver: T[]): number {
    const oldest = Math.min(...this.#wanted.keys());
    let position = oldest;
    while (this.#wanted.has(position)) {
      this.#giveUp(position);
      position += 1;
    }
    deliver.push(...this.#released());
    return position - oldest;
  }

  #giveUp(position: number): void {
    this.#wanted.delete(position);
    this.#remember(position, lostMark);
  }

  #remember(position: number, fingerprint: number): void {
    this.#heard.set(position, fingerprint);
    // Insertion order is close to the order of positions, so the first key is among the oldest.
    if (this.#heard.size > 2 * this.#limits.window) {
      for (const key of this.#heard.keys()) {
        if (this.#heard.size <= this.#limits.window) break;
        if (key < (this.#next ?? 0)) this.#heard.delete(key);
        else break;
      }
    }
  }
}
