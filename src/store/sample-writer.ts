import type { RawWindow, SampleRun, ShotEvent } from "../core/signal/shot-signal.ts";
import { mergeRuns } from "./merge-runs.ts";
import { type Block, encodeBlock } from "./sample-blocks.ts";

/** Longest time that a sample may wait in memory. */
const longestFlushMs = 1000;

/** Settings of a {@link SampleWriter}; `after` is the timer, injected, and returns how to call it off. */
export interface SampleWriterOptions {
  /** Longest time in ms that anything waits before it is stored: 1 to 1000, by default 500. */
  flushMs?: number;
  after?: (delayMs: number, call: () => void) => () => void;
  /** Told when storing failed in the background: the disk is full, say. The shot should be stopped. */
  onFailure?: (error: unknown) => void;
}

/**
 * Gathers what arrives during a shot and stores it, in order, at least every second. Contiguous batches become one block. A
 * failure to store loses nothing that was gathered: it is kept, reported to `onFailure`, and thrown by the next call; the
 * next flush tries again. What cannot be stored at all is refused with a RangeError when it is handed over.
 */
export interface SampleWriter {
  samples(run: SampleRun): void;
  raw(window: RawWindow): void;
  event(event: ShotEvent): void;
  /** Stores all that waits; on return it has reached the disk. */
  flush(): void;
  /** Flushes, and refuses whatever comes later. */
  close(): void;
}

/**
 * @param store stores blocks in one transaction, or throws and stores none
 * @throws RangeError if `flushMs` is not from 1 to 1000
 */
export function sampleWriter(
  store: (blocks: readonly Block[]) => void,
  options: SampleWriterOptions = {},
): SampleWriter {
  const { flushMs = 500, after = afterTimeout, onFailure } = options;
  if (!(flushMs >= 1 && flushMs <= longestFlushMs))
    throw new RangeError(`flushMs must be from 1 to ${longestFlushMs}, found ${flushMs}`);
  let waiting: Block[] = [];
  let callOff: (() => void) | null = null;
  let failure: { error: unknown } | null = null;
  let closed = false;

  const flush = (): void => {
    callOff?.();
    callOff = null;
    if (waiting.length > 0) store(joinNeighbours(waiting));
    waiting = [];
    failure = null;
  };

  const flushInBackground = (): void => {
    callOff = null;
    try {
      flush();
    } catch (error) {
      failure = { error };
      onFailure?.(error);
    }
  };

  const add = (block: Block): void => {
    if (closed) throw new Error("the sample writer is closed");
    // What cannot be stored is refused here: in the background it would hold up what is sound.
    encodeBlock(block);
    waiting.push(block);
    if (failure !== null) throw failure.error;
    callOff ??= after(flushMs, flushInBackground);
  };

  return {
    samples: (run) => add({ kind: "samples", run }),
    raw: (window) => add({ kind: "raw", window }),
    event: (event) => add({ kind: "event", event }),
    flush,
    close: () => {
      flush();
      closed = true;
    },
  };
}

function afterTimeout(delayMs: number, call: () => void): () => void {
  const timer = setTimeout(call, delayMs);
  return () => clearTimeout(timer);
}

/** The same blocks in the same order, but neighbouring runs of samples joined where contiguous. */
function joinNeighbours(blocks: readonly Block[]): Block[] {
  const joined: Block[] = [];
  let runs: SampleRun[] = [];
  const finishRuns = () => {
    joined.push(...mergeRuns(runs).map((run): Block => ({ kind: "samples", run })));
    runs = [];
  };
  for (const block of blocks) {
    if (block.kind === "samples") {
      runs.push(block.run);
    } else {
      finishRuns();
      joined.push(block);
    }
  }
  finishRuns();
  return joined;
}
