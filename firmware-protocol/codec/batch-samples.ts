import { longestLineBytes, type RigMessage } from "../messages.ts";

type Sample = Extract<RigMessage, { verb: "SAMPLE" }>;
type Raw = Extract<RigMessage, { verb: "RAW" }>;

/** Bytes of `SSSS `, `*CCCC` and LF. */
const frameBytes = 11;

/**
 * A run of true RMS values as SAMPLE messages, each as long as one line allows.
 *
 * @param shot number of the shot
 * @param firstEndUs end of the first value's window on the rig's clock, microseconds
 * @param stepUs time from one value to the next, microseconds; need not be whole (a 60 Hz cycle is 16666.67): `step` is
 *   rounded, and the `t0` of every message is rounded from the exact time, so that rounding does not add up
 * @param milliamps the values, whole milliamperes
 */
export function batchSamples(
  shot: number,
  firstEndUs: number,
  stepUs: number,
  milliamps: ArrayLike<number>,
): Sample[] {
  const step = Math.max(1, Math.round(stepUs));
  return runs(milliamps, (index) => {
    const t0 = Math.round(firstEndUs + index * stepUs);
    return { verb: "SAMPLE", shot, t0, step };
  });
}

/**
 * A run of instantaneous values as RAW messages, each as long as one line allows.
 *
 * @param shot number of the shot
 * @param window around what the values were taken
 * @param firstUs time of the first value on the rig's clock, microseconds
 * @param stepNs time from one value to the next, nanoseconds; need not be whole, as for `batchSamples`
 * @param milliamps the values, whole milliamperes
 */
export function batchRaw(
  shot: number,
  window: Raw["window"],
  firstUs: number,
  stepNs: number,
  milliamps: ArrayLike<number>,
): Raw[] {
  const step = Math.max(1, Math.round(stepNs));
  return runs(milliamps, (index) => {
    const t0 = Math.round(firstUs + (index * stepNs) / 1000);
    return { verb: "RAW", shot, window, t0, step };
  });
}

/** Cuts `values` into the longest runs that fit in a line behind the head made for each. */
function runs<Head extends { verb: string }>(
  values: ArrayLike<number>,
  headFor: (index: number) => Head,
): (Head & { values: number[] })[] {
  const messages: (Head & { values: number[] })[] = [];
  let index = 0;
  while (index < values.length) {
    const head = headFor(index);
    let room = longestLineBytes - frameBytes - writtenBytes(head);
    const run: number[] = [];
    for (; index < values.length; index += 1) {
      const value = values[index] as number;
      room -= String(value).length + 1;
      if (room < 0) break;
      run.push(value);
    }
    messages.push({ ...head, values: run });
  }
  return messages;
}

/** Bytes of the verb and the fields of a head whose fields are integers and plain words. */
function writtenBytes({ verb, ...fields }: { verb: string }): number {
  return Object.entries(fields).reduce(
    (sum, [name, value]) => sum + name.length + String(value).length + 2,
    verb.length,
  );
}
