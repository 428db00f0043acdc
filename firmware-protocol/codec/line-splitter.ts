import { longestLineBytes } from "../messages.ts";

const lineFeed = 0x0a;
const nothing = new Uint8Array(0);

/**
 * Cuts a stream of bytes into lines at LF, whatever the sizes of the chunks in which it arrives.
 *
 * Holds at most one line's worth of bytes. A line longer than the wire allows is dropped up to its LF and counted; it
 * is never handed on in part.
 */
export class LineSplitter {
  /** Bytes of the line that has begun, in a store of their own: callers may reuse the chunks they pushed. */
  readonly #held = new Uint8Array(longestLineBytes);
  #heldCount = 0;
  #dropping = false;
  #overruns = 0;

  /** Number of lines dropped so far because they were longer than 128 bytes. */
  get overruns(): number {
    return this.#overruns;
  }

  /** Forgets the line that has begun, as after a lost connection. */
  reset(): void {
    this.#heldCount = 0;
    this.#dropping = false;
  }

  /**
   * Takes the next bytes of the stream.
   *
   * @returns the lines that end in them, without LF, in order. A line that lies wholly in `chunk` is a view of it.
   */
  push(chunk: Uint8Array): Uint8Array[] {
    const lines: Uint8Array[] = [];
    let start = 0;
    for (;;) {
      const end = chunk.indexOf(lineFeed, start);
      if (end === -1) break;
      if (this.#heldCount > 0 || this.#dropping) {
        this.#hold(chunk, start, end);
        if (!this.#dropping) lines.push(this.#held.slice(0, this.#heldCount));
        this.#heldCount = 0;
        this.#dropping = false;
      } else if (end - start < longestLineBytes) {
        lines.push(end === start ? nothing : chunk.subarray(start, end));
      } else {
        this.#overruns += 1;
      }
      start = end + 1;
    }
    this.#hold(chunk, start, chunk.length);
    return lines;
  }

  /** Adds the bytes to the line that has begun, or gives the line up once it can no longer be a legal one. */
  #hold(chunk: Uint8Array, start: number, end: number): void {
    if (this.#dropping) return;
    const count = this.#heldCount + end - start;
    if (count < longestLineBytes) {
      for (let i = start; i < end; i += 1) this.#held[this.#heldCount + i - start] = chunk[i] as number;
      this.#heldCount = count;
    } else {
      this.#heldCount = 0;
      this.#dropping = true;
      this.#overruns += 1;
    }
  }
}
