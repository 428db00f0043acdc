import { LineSplitter } from "../codec/line-splitter.ts";
import type { FaultyLine } from "./faulty-line.ts";

const lineFeed = 0x0a;

/** What reaches the rig of what the host sends: lines, after the faults of the line have had their way. */
export class RigEar {
  readonly #line: FaultyLine | null;
  #sent = new LineSplitter();
  #arrived = new LineSplitter();

  constructor(line: FaultyLine | null) {
    this.#line = line;
  }

  /** Bytes as the host sent them, in pieces of any size. @returns the lines that arrive, without LF */
  hear(bytes: Uint8Array): Uint8Array[] {
    const line = this.#line;
    if (line === null) return this.#sent.push(bytes);
    return this.#sent
      .push(bytes)
      .flatMap((sent) => line.carry(Uint8Array.of(...sent, lineFeed)))
      .flatMap((piece) => this.#arrived.push(piece));
  }

  /** Forgets a line that has begun. */
  restart(): void {
    this.#sent = new LineSplitter();
    this.#arrived = new LineSplitter();
  }
}
