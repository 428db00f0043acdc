import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LineSplitter } from "../../../firmware-protocol/codec/line-splitter.ts";

/** The stream cut at the given places. */
function cut(bytes: Uint8Array, places: readonly number[]): Uint8Array[] {
  const sorted = places.map((place) => place % (bytes.length + 1)).sort((a, b) => a - b);
  const edges = [0, ...sorted, bytes.length];
  return edges.slice(1).map((edge, i) => bytes.slice(edges[i], edge));
}

function split(chunks: readonly Uint8Array[]): { lines: number[][]; overruns: number } {
  const splitter = new LineSplitter();
  const lines = chunks.flatMap((chunk) => splitter.push(chunk)).map((line) => [...line]);
  return { lines, overruns: splitter.overruns };
}

const ascii = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));
const texts = (lines: Uint8Array[]) => lines.map((line) => String.fromCharCode(...line));

// Line feeds often enough that short, long and too long lines all occur.
const stream = fc
  .array(fc.oneof({ weight: 3, arbitrary: fc.constant(0x0a) }, { weight: 100, arbitrary: fc.nat(255) }), {
    maxLength: 900,
    size: "max",
  })
  .map((bytes) => Uint8Array.from(bytes));

describe("LineSplitter", () => {
  it("gives the same lines and overruns however the stream is cut into chunks", () => {
    fc.assert(
      fc.property(stream, fc.array(fc.nat(), { maxLength: 20 }), (bytes, places) => {
        expect(split(cut(bytes, places))).toEqual(split([bytes]));
        expect(split([...bytes].map((byte) => Uint8Array.of(byte)))).toEqual(split([bytes]));
      }),
    );
  });

  it("gives what a plain split gives, without the lines that are too long", () => {
    fc.assert(
      fc.property(stream, (bytes) => {
        const whole = String.fromCharCode(...bytes).split("\n");
        const unended = whole.pop() as string;
        const { lines, overruns } = split([bytes]);
        expect(lines.map((line) => String.fromCharCode(...line))).toEqual(
          whole.filter((line) => line.length < 128),
        );
        const tooLong = [...whole, unended].filter((line) => line.length >= 128).length;
        expect(overruns).toBe(tooLong);
      }),
    );
  });

  it("shows the same lines one by one as it returns together", () => {
    fc.assert(
      fc.property(stream, fc.array(fc.nat(), { maxLength: 20 }), (bytes, places) => {
        const shown: number[][] = [];
        const splitter = new LineSplitter();
        for (const chunk of cut(bytes, places))
          splitter.forEachLine(chunk, (held, start, stop) => shown.push([...held.subarray(start, stop)]));
        expect(shown).toEqual(split([bytes]).lines);
      }),
    );
  });

  it("keeps a line that began in a chunk whose memory is used again", () => {
    const splitter = new LineSplitter();
    const memory = ascii("half");
    splitter.push(memory);
    memory.fill(0);
    expect(texts(splitter.push(ascii(" done\n")))).toEqual(["half done"]);
  });

  it("counts a run without end once, and reads on after its line feed", () => {
    const splitter = new LineSplitter();
    for (let i = 0; i < 1000; i += 1) expect(splitter.push(new Uint8Array(1000))).toEqual([]);
    expect(splitter.overruns).toBe(1);
    expect(texts(splitter.push(ascii("tail\nnext\n")))).toEqual(["next"]);
    expect(splitter.overruns).toBe(1);
  });

  it("forgets a line that has begun when told to", () => {
    const splitter = new LineSplitter();
    splitter.push(ascii("before"));
    splitter.reset();
    expect(texts(splitter.push(ascii("after\n")))).toEqual(["after"]);
  });
});
