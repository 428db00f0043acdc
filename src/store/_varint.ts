/*
 * Whole numbers as bytes, seven bits each, lowest first; the top bit says that more follow. Differences are folded to whole
 * numbers first: 0, -1, 1, -2, 2 become 0, 1, 2, 3, 4. Arithmetic instead of bit operators: these reach beyond 32 bits.
 */

/** Appends numbers to a buffer that grows. */
export class VarintWriter {
  #bytes = new Uint8Array(512);
  #length = 0;

  byte(value: number): void {
    if (this.#length === this.#bytes.length) {
      const larger = new Uint8Array(2 * this.#bytes.length);
      larger.set(this.#bytes);
      this.#bytes = larger;
    }
    this.#bytes[this.#length] = value;
    this.#length += 1;
  }

  /** @throws RangeError unless `value` is a whole number from 0 to 2^53 - 1 */
  whole(value: number): void {
    if (!Number.isSafeInteger(value) || value < 0)
      throw new RangeError(`expected a whole number from 0 to 2^53 - 1, found ${value}`);
    let rest = value;
    while (rest >= 128) {
      this.byte((rest % 128) + 128);
      rest = Math.floor(rest / 128);
    }
    this.byte(rest);
  }

  /** The first value, then each one's difference from the one before. */
  differences(values: Int32Array): void {
    let previous = 0;
    for (const value of values) {
      const step = value - previous;
      this.whole(step < 0 ? -2 * step - 1 : 2 * step);
      previous = value;
    }
  }

  bytes(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }
}

/** Reads back what {@link VarintWriter} wrote. Every method throws RangeError where the bytes cannot be that. */
export class VarintReader {
  readonly #bytes: Uint8Array;
  #place = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  byte(): number {
    const value = this.#bytes[this.#place];
    if (value === undefined) throw new RangeError(`cut off after ${this.#bytes.length} bytes`);
    this.#place += 1;
    return value;
  }

  whole(): number {
    let value = 0;
    let scale = 1;
    for (;;) {
      const byte = this.byte();
      value += (byte % 128) * scale;
      if (value > Number.MAX_SAFE_INTEGER) throw new RangeError("a number above 2^53 - 1");
      if (byte < 128) return value;
      scale *= 128;
    }
  }

  differences(count: number): Int32Array {
    // Each takes a byte at least: a false count must not claim memory.
    if (count > this.#bytes.length - this.#place)
      throw new RangeError(`${count} values announced in ${this.#bytes.length - this.#place} bytes`);
    const values = new Int32Array(count);
    let value = 0;
    for (let i = 0; i < count; i += 1) {
      const folded = this.whole();
      value += folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2;
      values[i] = value;
      if (values[i] !== value) throw new RangeError(`value ${value} does not fit in 32 bits`);
    }
    return values;
  }

  end(): void {
    const left = this.#bytes.length - this.#place;
    if (left > 0) throw new RangeError(`${left} bytes too many`);
  }
}
