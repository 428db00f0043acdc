import { sequenceDistance, sequenceModulus } from "../codec/sequence.ts";

/** Number of lines that the emulated rig keeps for AGAIN; the wire asks for at least 1024. */
export const keptLineCount = 16_384;

/** The newest lines that the rig sent, byte for byte, and the sequence number of the next. */
export class KeptLines {
  #lines: Uint8Array[] = [];
  #next = 0;

  /** Sequence number that the next line must bear. */
  get next(): number {
    return this.#next;
  }

  /** Sequence number of the newest line; FFFF before the first. */
  get newest(): number {
    return (this.#next + sequenceModulus - 1) % sequenceModulus;
  }

  /** Keeps a line that bears the number `next`. */
  keep(line: Uint8Array): void {
    this.#lines[this.#next % keptLineCount] = line;
    this.#next = (this.#next + 1) % sequenceModulus;
  }

  /**
   * The lines `first` to `last`, both included, that are still kept.
   *
   * @returns `lines` in order, and `gone`, the runs of numbers of which there is no line (any more, or yet)
   */
  find(first: number, last: number): { lines: Uint8Array[]; gone: { first: number; last: number }[] } {
    const lines: Uint8Array[] = [];
    const gone: { first: number; last: number }[] = [];
    const count = sequenceDistance(first, last) + 1;
    let missing: { first: number; last: number } | null = null;
    for (let i = 0; i < count; i += 1) {
      const sequence = (first + i) % sequenceModulus;
      const age = sequenceDistance(sequence, this.#next);
      const line = age >= 1 && age <= keptLineCount ? this.#lines[sequence % keptLineCount] : undefined;
      if (line !== undefined) {
        lines.push(line);
        missing = null;
      } else if (missing === null) {
        missing = { first: sequence, last: sequence };
        gone.push(missing);
      } else missing.last = sequence;
    }
    return { lines, gone };
  }
}
