import type { RawWindow, SampleRun, ShotEvent } from "../core/signal/shot-signal.ts";
import { mergeRuns } from "../store/merge-runs.ts";
import { decodeBlock, type StoredBlock } from "../store/sample-blocks.ts";

/**
 * The stored blocks of a shot in one file, framed as they are hashed: for each block one byte of kind, four bytes of length
 * (big-endian), the payload. The SHA-256 of the file is the `samplesHash` of the entry that closed the shot.
 */
export function blockFileBytes(blocks: readonly StoredBlock[]): Uint8Array {
  return Buffer.concat(
    blocks.flatMap(({ kind, payload }) => {
      const frame = Buffer.alloc(5);
      frame.writeUInt8(kind, 0);
      frame.writeUInt32BE(payload.length, 1);
      return [frame, payload];
    }),
  );
}

/**
 * Blocks of such a file.
 *
 * @throws RangeError where the file ends inside a block
 */
export function blocksInFile(bytes: Uint8Array): StoredBlock[] {
  const blocks: StoredBlock[] = [];
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 0; at < bytes.length; ) {
    const end = at + 5 <= bytes.length ? at + 5 + view.getUint32(at + 1) : Number.POSITIVE_INFINITY;
    if (end > bytes.length) throw new RangeError(`block ${blocks.length + 1} is cut off`);
    blocks.push({ kind: view.getUint8(at), payload: bytes.subarray(at + 5, end) });
    at = end;
  }
  return blocks;
}

/** The signal in blocks, as the store reads it: runs joined, events and windows in order of time; with the count of samples. */
export function signalInBlocks(blocks: readonly StoredBlock[]): {
  signal: { runs: SampleRun[]; events: ShotEvent[]; raw: RawWindow[] };
  samples: number;
} {
  const runs: SampleRun[] = [];
  const events: ShotEvent[] = [];
  const raw: RawWindow[] = [];
  for (const one of blocks.map(decodeBlock)) {
    if (one.kind === "samples") runs.push(one.run);
    else if (one.kind === "event") events.push(one.event);
    else raw.push(one.window);
  }
  return {
    samples: runs.reduce((sum, run) => sum + run.milliamps.length, 0),
    signal: {
      runs: mergeRuns(runs),
      events: events.sort((a, b) => a.atUs - b.atUs),
      raw: raw.sort((a, b) => a.firstAtUs - b.firstAtUs),
    },
  };
}

/** Samples as CSV: `t_s`, the end of each window in seconds of the rig's clock, and `amps`, its true RMS current. */
export function samplesCsv(runs: readonly SampleRun[]): string {
  const lines = ["t_s,amps"];
  for (const { firstEndUs, stepUs, milliamps } of runs)
    for (let i = 0; i < milliamps.length; i += 1)
      lines.push(`${(firstEndUs + i * stepUs) / 1e6},${(milliamps[i] ?? 0) / 1000}`);
  return `${lines.join("\n")}\n`;
}
