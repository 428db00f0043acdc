import type Database from "better-sqlite3";
import { blocksHash } from "../core/evidence/blocks-hash.ts";
import type { RawWindow, SampleRun, ShotEvent } from "../core/signal/shot-signal.ts";
import { mergeRuns } from "./merge-runs.ts";
import { type Block, decodeBlock, encodeBlock, type StoredBlock } from "./sample-blocks.ts";
import { type SampleWriter, type SampleWriterOptions, sampleWriter } from "./sample-writer.ts";
import { StoreError } from "./store-error.ts";

/** What a shot left behind: runs in order of time, contiguous ones joined; events and windows in order of time. */
export interface StoredSignal {
  runs: SampleRun[];
  events: ShotEvent[];
  raw: RawWindow[];
}

/** What the closing entry of a shot says of its blocks. */
export interface BlockFacts {
  samples: number;
  blocks: number;
  samplesHash: string;
}

/** Blocks of samples, raw windows and events, by shot. Shots are named by their identifier, such as `7K2M-T0001`. */
export interface BlockTable {
  /**
   * Stores blocks in one transaction that has reached the disk on return.
   *
   * @throws StoreError `refused` for a shot that was never opened or is closed; RangeError for blocks that cannot be
   */
  append(shot: string, blocks: readonly Block[]): void;
  /** A writer that gathers what arrives and stores it at least every second. */
  writer(shot: string, options?: SampleWriterOptions): SampleWriter;
  /** @throws StoreError `refused` for an unknown shot, `damaged` naming a block that cannot be read */
  readSignal(shot: string): StoredSignal;
  /** Count and hash of the blocks stored so far. */
  facts(shot: string): BlockFacts;
  /** The blocks as stored, in order, for whoever recomputes their hash. */
  stored(shot: string): StoredBlock[];
}

/** The table of blocks in an open database; `writable` false refuses to append. */
export function blockTable(database: Database.Database, writable: boolean): BlockTable {
  const closed = database
    .prepare<[string], number>("SELECT sequence FROM ledger WHERE kind = 'shot-closed' AND shot = ?")
    .pluck();
  const lastNumber = database
    .prepare<[number], number>("SELECT COALESCE(MAX(number), 0) FROM sample_blocks WHERE shot = ?")
    .pluck();
  const insert = database.prepare(
    "INSERT INTO sample_blocks (shot, number, kind, payload) VALUES (?, ?, ?, ?)",
  );

  const sequenceOf = (shot: string): number => openingSequence(database, shot);

  const insertAll = database.transaction((shot: string, blocks: readonly StoredBlock[]) => {
    const sequence = sequenceOf(shot);
    if (closed.get(shot) !== undefined)
      throw new StoreError("refused", `shot ${shot} is closed and takes no more samples`);
    let number = lastNumber.get(sequence) ?? 0;
    for (const { kind, payload } of blocks) {
      number += 1;
      insert.run(sequence, number, kind, payload);
    }
  });

  const append = (shot: string, blocks: readonly Block[]): void => {
    if (!writable) throw new StoreError("read-only", "the store was opened for reading only");
    insertAll.immediate(shot, blocks.map(encodeBlock));
  };
  const stored = (shot: string): StoredBlock[] => storedBlocks(database, sequenceOf(shot));

  return {
    append,
    stored,
    writer: (shot, options) => {
      sequenceOf(shot);
      return sampleWriter((blocks) => append(shot, blocks), options);
    },
    readSignal: (shot) => {
      const blocks = decodeAll(shot, stored(shot));
      const raw = blocks.flatMap((block) => (block.kind === "raw" ? [block.window] : []));
      const events = blocks.flatMap((block) => (block.kind === "event" ? [block.event] : []));
      return {
        runs: mergeRuns(blocks.flatMap((block) => (block.kind === "samples" ? [block.run] : []))),
        events: events.sort((a, b) => a.atUs - b.atUs),
        raw: raw.sort((a, b) => a.firstAtUs - b.firstAtUs),
      };
    },
    facts: (shot) => blockFacts(shot, stored(shot)),
  };
}

/**
 * Sequence of the entry that opened a shot.
 *
 * @throws StoreError `refused` where there is none
 */
export function openingSequence(database: Database.Database, shot: string): number {
  const sequence = database
    .prepare<[string], number>("SELECT sequence FROM ledger WHERE kind = 'shot-opened' AND shot = ?")
    .pluck()
    .get(shot);
  if (sequence === undefined) throw new StoreError("refused", `no shot ${shot} was opened in this ledger`);
  return sequence;
}

/** Blocks stored for the shot that entry `sequence` opened, in order. */
export function storedBlocks(database: Database.Database, sequence: number): StoredBlock[] {
  return database
    .prepare<[number], StoredBlock>("SELECT kind, payload FROM sample_blocks WHERE shot = ? ORDER BY number")
    .all(sequence);
}

/**
 * Count and hash of a shot's blocks. Samples count as stored, one that was stored twice counts twice.
 *
 * @throws StoreError `damaged` naming a block that cannot be read
 */
export function blockFacts(shot: string, stored: readonly StoredBlock[]): BlockFacts {
  let samples = 0;
  for (const block of decodeAll(shot, stored))
    if (block.kind === "samples") samples += block.run.milliamps.length;
  return { samples, blocks: stored.length, samplesHash: blocksHash(stored) };
}

function decodeAll(shot: string, stored: readonly StoredBlock[]): Block[] {
  return stored.map((block, index) => {
    try {
      return decodeBlock(block);
    } catch (error) {
      throw new StoreError(
        "damaged",
        `block ${index + 1} of shot ${shot}: ${(error as Error).message}`,
        error,
      );
    }
  });
}
