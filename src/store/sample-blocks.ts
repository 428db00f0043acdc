import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { parseStrictJson } from "../core/evidence/parse-strict-json.ts";
import type { RawWindow, SampleRun, ShotEvent } from "../core/signal/shot-signal.ts";
import { VarintReader, VarintWriter } from "./_varint.ts";

/*
 * Blocks of a shot, as they lie on the disk and enter its hash. A block is a kind, one byte, and a payload:
 *
 *   kind 1, samples: consecutive true RMS samples
 *     +-------------------+---------------+--------------+----------------------+------------------------- - -
 *     | end of the first  | step in µs    | count n      | first sample in mA   | n - 1 differences from
 *     | in µs     whole   |       whole   |      whole   |              signed  | the one before, signed
 *     +-------------------+---------------+--------------+----------------------+------------------------- - -
 *
 *   kind 2, raw: instantaneous current around the onset (window 0) or the opening (window 1)
 *     +----------+-------------------+---------------+--------------+----------------------+-------------- - -
 *     | window   | time of the first | step in ns    | count n      | first value in mA    | n - 1 differences
 *     | one byte | in µs     whole   |       whole   |      whole   |              signed  | as above, signed
 *     +----------+-------------------+---------------+--------------+----------------------+-------------- - -
 *
 *   kind 3, event: UTF-8 of the RFC 8785 text of one event, such as {"atUs":1000,"kind":"onset"}
 *
 * whole:  seven bits a byte, lowest first, the top bit set on all bytes but the last; 0 to 2^53 - 1
 * signed: the whole number 2v for v >= 0, -2v - 1 for v < 0
 *
 * Times are the rig's own clock. Nothing follows the last field. The hash over a shot's blocks, in the order of their
 * numbers, is SHA-256 over, for each: the kind (one byte), the payload's length (four bytes, big-endian), the payload. It is
 * computed by core/evidence/blocks-hash.ts and stands in the entry that closes the shot.
 */

/** What one block holds. */
export type Block =
  | { kind: "samples"; run: SampleRun }
  | { kind: "raw"; window: RawWindow }
  | { kind: "event"; event: ShotEvent };

/** A block as stored. */
export interface StoredBlock {
  kind: number;
  payload: Uint8Array;
}

const kindNumber = { samples: 1, raw: 2, event: 3 } as const;
const windows = ["onset", "opening"] as const;
const offReasons: readonly string[] = [
  "opened",
  "host-stop",
  "longest-time",
  "heartbeat-lost",
  "interlock",
  "over-temperature",
  "stop-button",
  "source-fault",
  "link-lost",
  "host-died",
];

/**
 * Bytes of a block, laid out as drawn above.
 *
 * @throws RangeError for times that are not whole numbers of their unit, a step of zero, or a run without samples
 */
export function encodeBlock(block: Block): StoredBlock {
  const kind = kindNumber[block.kind];
  if (block.kind === "event") {
    if (!isShotEvent(block.event))
      throw new RangeError(`not an event of a shot: ${canonicalJson(block.event)}`);
    return { kind, payload: Buffer.from(canonicalJson(block.event), "utf8") };
  }
  const writer = new VarintWriter();
  if (block.kind === "samples") {
    const { firstEndUs, stepUs, milliamps } = block.run;
    header(writer, firstEndUs, stepUs, milliamps);
  } else {
    const { window, firstAtUs, stepNs, milliamps } = block.window;
    writer.byte(windows.indexOf(window));
    header(writer, firstAtUs, stepNs, milliamps);
  }
  return { kind, payload: writer.bytes() };
}

/**
 * What the bytes of a block say.
 *
 * @throws RangeError naming what is wrong with bytes that `encodeBlock` did not write
 */
export function decodeBlock({ kind, payload }: StoredBlock): Block {
  if (kind === kindNumber.event) return { kind: "event", event: eventIn(payload) };
  const reader = new VarintReader(payload);
  if (kind === kindNumber.samples) {
    const [firstEndUs, stepUs, milliamps] = values(reader);
    return { kind: "samples", run: { firstEndUs, stepUs, milliamps } };
  }
  if (kind === kindNumber.raw) {
    const window = windows[reader.byte()];
    if (window === undefined) throw new RangeError(`unknown window ${payload[0]}`);
    const [firstAtUs, stepNs, milliamps] = values(reader);
    return { kind: "raw", window: { window, firstAtUs, stepNs, milliamps } };
  }
  throw new RangeError(`unknown kind ${kind}; known are 1 samples, 2 raw, 3 event`);
}

function header(writer: VarintWriter, first: number, step: number, milliamps: Int32Array): void {
  if (step === 0 || milliamps.length === 0)
    throw new RangeError(
      `expected a step above 0 and samples, found step ${step} and ${milliamps.length} samples`,
    );
  writer.whole(first);
  writer.whole(step);
  writer.whole(milliamps.length);
  writer.differences(milliamps);
}

function values(reader: VarintReader): [first: number, step: number, milliamps: Int32Array] {
  const first = reader.whole();
  const step = reader.whole();
  const count = reader.whole();
  if (step === 0 || count === 0) throw new RangeError(`step ${step} and ${count} samples`);
  const milliamps = reader.differences(count);
  reader.end();
  return [first, step, milliamps];
}

function eventIn(payload: Uint8Array): ShotEvent {
  const parsed = parseStrictJson(Buffer.from(payload).toString("utf8"));
  if (!parsed.ok) throw new RangeError(parsed.problem);
  if (!isShotEvent(parsed.value))
    throw new RangeError(`not an event of a shot: ${JSON.stringify(parsed.value)}`);
  return parsed.value;
}

function isShotEvent(value: unknown): value is ShotEvent {
  if (typeof value !== "object" || value === null) return false;
  const { atUs, kind, pole, why } = value as Record<string, unknown>;
  if (!Number.isSafeInteger(atUs)) return false;
  if (kind === "opening") return pole === undefined || Number.isSafeInteger(pole);
  return kind === "onset" || (kind === "off" && offReasons.includes(String(why)));
}
