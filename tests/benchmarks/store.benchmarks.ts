import { mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Store } from "../../src/store/open-store.ts";
import { closeShot, openLab, openShot, receive } from "../store/small-lab.ts";
import { type Benchmark, fastestSeconds } from "./benchmark.ts";

/** Two hours at one sample per cycle of 60 Hz. */
const sampleCount = 432_000;
const stepUs = 16_667;

/** A regulated current with a slow sag, ripple and sensor noise of `noise` of its value (one standard deviation). */
function current(amps: number, noise: number): Int32Array {
  let seed = 12345;
  const random = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return (seed + 1) / 4294967297;
  };
  return Int32Array.from({ length: sampleCount }, (_, i) => {
    const gauss = Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
    const slow = 1 + 0.003 * Math.sin(i / 9000) + 0.001 * Math.sin(i / 7);
    return Math.round(1000 * amps * slow * (1 + noise * gauss));
  });
}

/** A store with one shot whose samples were flushed every `perFlush` of them, and what the shot added to the disk. */
function longShot(milliamps: Int32Array, perFlush: number): { store: Store; shot: string; bytes: number } {
  const folder = mkdtempSync(join(tmpdir(), "asfound-bench-"));
  const database = join(folder, "asfound.sqlite");
  const before = openLab(folder);
  const specimen = receive(before, "long");
  before.close();
  const sizeBefore = statSync(database).size;
  const store = openLab(folder);
  const shot = openShot(store, specimen);
  const writer = store.blocks.writer(shot, { after: () => () => {} });
  for (let i = 0; i < sampleCount; i += perFlush) {
    writer.samples({
      firstEndUs: 20_000 + i * stepUs,
      stepUs,
      milliamps: milliamps.subarray(i, i + perFlush),
    });
    writer.flush();
  }
  writer.close();
  closeShot(store, shot, null);
  store.close();
  // Closing brings the write-ahead log into the file; nothing else of the shot lies anywhere.
  return { store: openLab(folder), shot, bytes: statSync(database).size - sizeBefore };
}

function discard({ store }: { store: Store }): void {
  store.close();
  rmSync(store.dataDir, { recursive: true });
}

function bytesPerSample(name: string, amps: number, noise: number, perFlush: number): Benchmark {
  return {
    name: `two-hour shot on disk, ${name}`,
    target: "at most 4 bytes a sample, all of the file counted",
    measure: () => {
      const kept = longShot(current(amps, noise), perFlush);
      const found = kept.bytes / sampleCount;
      discard(kept);
      return { figures: `${found.toFixed(2)} bytes a sample`, met: found <= 4 };
    },
  };
}

export const benchmarks: Benchmark[] = [
  bytesPerSample("27 A, noise 0.3 %, flushed each half second as by default", 27, 0.003, 30),
  bytesPerSample("4 kA, noise 0.5 %, flushed each second", 4000, 0.005, 60),
  {
    name: "two-hour shot read back from disk",
    target: "at most 3 times as long as JSON.parse of the same samples",
    measure: () => {
      const milliamps = current(27, 0.003);
      const kept = longShot(milliamps, 600);
      const text = JSON.stringify([...milliamps]);
      const reading = fastestSeconds(5, () => {
        if (kept.store.blocks.readSignal(kept.shot).runs[0]?.milliamps.length !== sampleCount)
          throw new Error("not all samples came back as one run");
      });
      const parsing = fastestSeconds(5, () => {
        JSON.parse(text);
      });
      discard(kept);
      const ratio = reading / parsing;
      return {
        figures: `${ratio.toFixed(2)} times (${(1000 * reading).toFixed(1)} ms against ${(1000 * parsing).toFixed(1)} ms)`,
        met: ratio <= 3,
      };
    },
  },
];
