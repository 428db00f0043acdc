import { Transform, type TransformCallback } from "node:stream";

const newline = 0x0a;

/**
 * Passes whole lines on, but cuts out those longer than `longest` bytes, newline included, so that a parser behind it that waits for
 * a newline cannot be made to store without limit. A line cut out leaves nothing behind, not even its newline.
 */
export class EndlessLineGuard extends Transform {
  /** Lines cut out so far. */
  overruns = 0;
  readonly #longest: number;
  #held: Buffer[] = [];
  #heldLength = 0;
  #skipping = false;

  constructor(longest: number) {
    super();
    this.#longest = longest;
  }

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: TransformCallback): void {
    let start = 0;
    while (start < chunk.length) {
      const end = chunk.indexOf(newline, start);
      const part = chunk.subarray(start, end === -1 ? chunk.length : end + 1);
      this.#take(part, end !== -1);
      start += part.length;
    }
    done();
  }

  #take(part: Buffer, ends: boolean): void {
    if (!this.#skipping) {
      this.#held.push(part);
      this.#heldLength += part.length;
      if (this.#heldLength + (ends ? 0 : 1) > this.#longest) {
        this.#skipping = true;
        this.overruns += 1;
        this.#forget();
      } else if (ends) {
        this.push(this.#held.length === 1 ? part : Buffer.concat(this.#held));
        this.#forget();
      }
    }
    if (ends) this.#skipping = false;
  }

  #forget(): void {
    this.#held = [];
    this.#heldLength = 0;
  }
}
