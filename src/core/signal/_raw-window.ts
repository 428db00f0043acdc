import type { RawWindow } from "./shot-signal.ts";

/** Instantaneous current without a gap. Value i was taken at `firstUs + i * stepUs`; both may have fractions. */
export interface RawStretch {
  firstUs: number;
  stepUs: number;
  milliamps: Int32Array;
}

/** The raw windows of one kind, those that follow on each other joined, in order of time. */
export function rawStretches(raw: readonly RawWindow[], kind: RawWindow["window"]): RawStretch[] {
  const pieces = raw
    .filter((one) => one.window === kind && one.milliamps.length > 0)
    .toSorted((a, b) => a.firstAtUs - b.firstAtUs);
  const joined: RawWindow[][] = [];
  for (const piece of pieces) {
    const open = joined.at(-1);
    const before = open?.at(-1);
    // Times on the wire are whole microseconds, steps are nanoseconds: a piece may begin a microsecond off.
    const expectedUs = before && before.firstAtUs + (before.milliamps.length * before.stepNs) / 1000;
    const follows =
      before?.stepNs === piece.stepNs &&
      expectedUs !== undefined &&
      Math.abs(piece.firstAtUs - expectedUs) <= 1 + piece.stepNs / 2000;
    if (follows) open?.push(piece);
    else joined.push([piece]);
  }
  return joined.map(joinedStretch);
}

function joinedStretch(pieces: readonly RawWindow[]): RawStretch {
  const milliamps = new Int32Array(pieces.reduce((sum, one) => sum + one.milliamps.length, 0));
  let at = 0;
  for (const piece of pieces) {
    milliamps.set(piece.milliamps, at);
    at += piece.milliamps.length;
  }
  return { firstUs: pieces[0]?.firstAtUs ?? 0, stepUs: (pieces[0]?.stepNs ?? 0) / 1000, milliamps };
}
