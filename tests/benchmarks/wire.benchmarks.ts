import { batchSamples } from "../../firmware-protocol/codec/batch-samples.ts";
import { decodeLine } from "../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../firmware-protocol/codec/encode-line.ts";
import { LineSplitter } from "../../firmware-protocol/codec/line-splitter.ts";
import { type Benchmark, type BenchmarkResult, fastestSeconds } from "./benchmark.ts";

const lineFeed = 0x0a;
/** Most that a serial line at 3 Mbaud carries, 8N1, in bytes a second. */
const lineRate = 300_000;
const chunkBytes = 16_384;
const valueCount = 5_000;

/** What a rig sends in a long shot at one value a 60 Hz cycle, current about `amps`: SAMPLE lines only. */
function recordedBytes(amps: number, seed: number): Uint8Array {
  let state = seed;
  const milliamps = Array.from({ length: valueCount }, () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.round(amps * 1000 + (state / 2_147_483_648 - 0.5) * 200);
  });
  const lines = batchSamples(7, 1_000_000, 1e6 / 60, milliamps).map((message, i) =>
    encodeLine(i % 65_536, message),
  );
  return Uint8Array.from(lines.flatMap((line) => [...line]));
}

/** The stream as a serial port or socket hands it over: many chunks, each its own Buffer. */
function chunksOf(bytes: Uint8Array): Uint8Array[] {
  const chunks: Uint8Array[] = [];
  for (let at = 0; at < bytes.length; at += chunkBytes)
    chunks.push(Buffer.from(bytes.subarray(at, at + chunkBytes)));
  return chunks;
}

/** Total length of the lines: keeps the work from being optimised away, and shows that all of it was done. */
function splitOnly(chunks: readonly Uint8Array[]): number {
  const splitter = new LineSplitter();
  let total = 0;
  for (const chunk of chunks) for (const line of splitter.push(chunk)) total += line.length;
  return total;
}

/** The least that splitting can cost: find LF, cut, in one piece of memory, nothing bounded. */
function bareSplit(bytes: Buffer): number {
  let total = 0;
  let start = 0;
  for (let end = bytes.indexOf(lineFeed); end !== -1; end = bytes.indexOf(lineFeed, start)) {
    total += bytes.subarray(start, end).length;
    start = end + 1;
  }
  return total;
}

/** Number of values in all lines, decoded. */
function splitAndDecode(chunks: readonly Uint8Array[]): number {
  const splitter = new LineSplitter();
  let values = 0;
  for (const chunk of chunks)
    splitter.forEachLine(chunk, (bytes, start, stop) => {
      const decoded = decodeLine(bytes, start, stop);
      if (decoded.ok && decoded.message.verb === "SAMPLE") values += decoded.message.values.length;
    });
  return values;
}

/**
 * Measured in turns and in short pieces, so that other work on the machine falls on all three alike: a long run is more
 * likely to be disturbed than a short one, which would favour the quicker of two.
 */
function measure(): BenchmarkResult {
  const bytes = recordedBytes(135, 1);
  const chunks = chunksOf(bytes);
  const whole = Buffer.from(bytes);
  const expected = splitAndDecode(chunks);
  if (expected !== valueCount) throw new Error(`decoded ${expected} values of ${valueCount}`);
  let decode = Number.POSITIVE_INFINITY;
  let split = Number.POSITIVE_INFINITY;
  let bare = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 4000; round += 1) {
    decode = Math.min(
      decode,
      fastestSeconds(1, () => splitAndDecode(chunks)),
    );
    split = Math.min(
      split,
      fastestSeconds(4, () => splitOnly(chunks)),
    );
    bare = Math.min(
      bare,
      fastestSeconds(4, () => bareSplit(whole)),
    );
  }
  const rate = bytes.length / decode;
  const toLine = rate / lineRate;
  return {
    figures:
      `${(rate / 1e6).toFixed(0)} MB/s = ${toLine.toFixed(0)} x the line; ` +
      `time ${(decode / split).toFixed(2)} x LineSplitter alone, ${(decode / bare).toFixed(2)} x a bare split`,
    met: toLine >= 20 && decode / split <= 5 && decode / bare <= 5,
  };
}

/** Decoding of the wire against the line's own rate and against splitting the same bytes on newlines alone. */
export const benchmarks: Benchmark[] = [
  {
    name: "decode lines of the wire",
    target: "at least 20 x 300 kB/s, at most 5 x the time of splitting the same bytes on newlines",
    measure,
  },
];
