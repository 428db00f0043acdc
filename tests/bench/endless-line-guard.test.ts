import { ReadlineParser } from "@serialport/parser-readline";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LineSplitter } from "../../firmware-protocol/codec/line-splitter.ts";
import { EndlessLineGuard } from "../../src/bench/endless-line-guard.ts";

/** Lines that come out of guard and parser, as a serial link has them. */
function throughParser(chunks: readonly Uint8Array[]): { lines: string[]; overruns: number } {
  const guard = new EndlessLineGuard(128);
  const parser = new ReadlineParser({ delimiter: "\n", encoding: "latin1" });
  const lines: string[] = [];
  parser.on("data", (line: string) => lines.push(line));
  guard.on("data", (chunk: Buffer) => parser.write(chunk));
  for (const chunk of chunks) guard.write(Buffer.from(chunk));
  return { lines, overruns: guard.overruns };
}

/** Streams rich in newlines and in lines about as long as the wire allows. */
const stream = fc.array(
  fc.oneof(
    fc.uint8Array({ maxLength: 20 }),
    fc.constant(Uint8Array.of(0x0a)),
    fc.integer({ min: 120, max: 300 }).map((length) => new Uint8Array(length).fill(0xe9)),
  ),
  { maxLength: 30 },
);

describe("EndlessLineGuard", () => {
  it("with the parser behind it cuts a stream into the same lines as the wire's own splitter", async () => {
    await fc.assert(
      fc.asyncProperty(stream, async (chunks) => {
        const found = throughParser(chunks);
        await new Promise((resolve) => setImmediate(resolve));
        const splitter = new LineSplitter();
        const expected = chunks
          .flatMap((chunk) => splitter.push(chunk))
          .map((line) => Buffer.from(line).toString("latin1"))
          // The parser does not tell of empty lines, which say nothing.
          .filter((line) => line !== "");
        expect(found.lines).toEqual(expected);
        expect(found.overruns).toBe(splitter.overruns);
      }),
      { numRuns: 200 },
    );
  });

  it("holds no more than a line's worth of an endless line", () => {
    const guard = new EndlessLineGuard(128);
    let passed = 0;
    guard.on("data", (chunk: Buffer) => {
      passed += chunk.length;
    });
    for (let i = 0; i < 1000; i += 1) guard.write(Buffer.alloc(1000, 0x41));
    guard.write(Buffer.from("\nshort\n"));
    expect(guard.overruns).toBe(1);
    expect(passed).toBe("short\n".length);
  });
});
