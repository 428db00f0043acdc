import { longestLineBytes } from "../messages.ts";

const lineFeed = 0x0a;

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
    this.forEachLine(chunk, (bytes, start, stop) => {
      lines.push(bytes === this.#held ? bytes.slice(start, stop) : bytes.subarray(start, stop));
    });
    return lines;
  }

  /**
   * Takes the next bytes of the stream and shows each line that ends in them, without LF, in order, as the place where
   * it stands. Making a view of every line costs four times as much as finding it; decoding needs none.
   *
   * @param take called with bytes and the line's start and stop in them, which hold only until it returns
   */
  forEachLine(chunk: Uint8Array, take: (bytes: Uint8Array, start: number, stop: number) => void): void {
    // One kind of array for all that reads the lines: engines slow down where a Buffer and a Uint8Array meet.
    const bytes = new Uint8Array(chunk.buffer, chunk.byteOffset, chunk.length);
    let start = 0;
    for (let stop = chunk.indexOf(lineFeed); stop !== -1; stop = chunk.indexOf(lineFeed, start)) {
      if (this.#heldCount > 0 || this.#dropping) {
        this.#hold(chunk, start, stop);
        const count = this.#heldCount;
        const whole = !this.#dropping;
        this.reset();
        if (whole) take(this.#held, 0, count);
      } else if (stop - start < longestLineBytes) take(bytes, start, stop);
      else this.#overruns += 1;
      start = stop + 1;
    }
    this.#hold(chunk, start, chunk.length);
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
