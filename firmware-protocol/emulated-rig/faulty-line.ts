import type { LineFaults } from "./line-faults.ts";
import type { SeededRandom } from "./seeded-random.ts";

/** One way of a line, with the faults that come by chance. */
export class FaultyLine {
  readonly #faults: LineFaults;
  readonly #random: SeededRandom;
  /** A line that the next one overtakes. */
  #heldBack: Uint8Array | null = null;

  constructor(faults: LineFaults, random: SeededRandom) {
    this.#faults = faults;
    this.#random = random;
  }

  /** Carries one line, LF included. @returns what arrives now, in order: nothing, one line or several */
  carry(line: Uint8Array): Uint8Array[] {
    const { drop, damage, repeat, reorder, truncate } = this.#faults;
    const random = this.#random;
    const overtaken = this.#heldBack === null ? [] : [this.#heldBack];
    if (random.chance(drop)) return [];
    let arriving = line;
    if (random.chance(truncate)) arriving = arriving.slice(0, random.index(arriving.length));
    if (random.chance(damage)) arriving = this.#damaged(arriving);
    if (overtaken.length === 0 && random.chance(reorder)) {
      this.#heldBack = arriving;
      return [];
    }
    this.#heldBack = null;
    return random.chance(repeat) ? [arriving, arriving, ...overtaken] : [arriving, ...overtaken];
  }

  #damaged(line: Uint8Array): Uint8Array {
    const bytes = line.slice();
    if (bytes.length === 0) return bytes;
    const flips = 1 + this.#random.index(3);
    for (let flip = 0; flip < flips; flip += 1) {
      const place = this.#random.index(bytes.length);
      bytes[place] = (bytes[place] as number) ^ (1 << this.#random.index(8));
    }
    return bytes;
  }
}
