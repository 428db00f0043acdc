import type { Specimen } from "../specimen/specimen.ts";
import { formatSeconds } from "../units/format-seconds.ts";
import { rowsFor } from "./applicable-rows.ts";
import type { LimitRow, LimitSet } from "./limit-set.ts";

/** A limit at one multiple of the rating. `latest`: it must have tripped by then. `earliest`: it must not trip before. */
export interface LimitMark {
  multiple: number;
  seconds: number;
  edge: "latest" | "earliest";
  label: string;
  /** False where the value was not read in the document itself. */
  readInDocument: boolean;
}

/** A corner of a region: multiple of the rating, seconds. */
export type Corner = readonly [multiple: number, seconds: number];

/** The limits of a set that apply to a specimen, from the lowest multiple to the highest; one mark for equal limits. */
export function limitMarks(set: LimitSet, specimen: Specimen): LimitMark[] {
  const marks = new Map<string, LimitMark>();
  for (const row of rowsFor(set, specimen)) {
    for (const mark of marksOfRow(row)) {
      const key = `${mark.multiple} ${mark.edge} ${mark.seconds}`;
      const known = marks.get(key);
      if (known === undefined) marks.set(key, mark);
      else if (!mark.readInDocument) marks.set(key, { ...known, readInDocument: false });
    }
  }
  return [...marks.values()].sort((a, b) => a.multiple - b.multiple || a.seconds - b.seconds);
}

function marksOfRow(row: LimitRow): LimitMark[] {
  const mark = (edge: LimitMark["edge"], seconds: number, words: string): LimitMark => ({
    multiple: row.multiple,
    seconds,
    edge,
    label: `${words} ${formatSeconds(seconds)}`,
    readInDocument: row.source.standing === "read in the document",
  });
  switch (row.requirement.kind) {
    case "trip-within":
      return [mark("latest", row.requirement.maxSeconds, "trip within")];
    case "hold-for":
      return [mark("earliest", row.requirement.seconds, "hold for")];
    case "trip-between":
      return [
        mark("earliest", row.requirement.minSeconds, "not before"),
        mark("latest", row.requirement.maxSeconds, "trip within"),
      ];
  }
}

/**
 * Lower edge of the region where a trip comes too late, as a staircase from the lowest multiple with a limit to
 * `toMultiple`. Between test points it only guides the eye: what must trip in time at one current must, by the longest of
 * the limits at lower multiples, not be slower at a higher one. Empty without a `latest` limit.
 */
export function tooLateEdge(marks: readonly LimitMark[], toMultiple: number): Corner[] {
  const corners: Corner[] = [];
  let level = Number.POSITIVE_INFINITY;
  for (const mark of marks) {
    if (mark.edge !== "latest" || mark.seconds >= level) continue;
    if (corners.length > 0) corners.push([mark.multiple, level]);
    corners.push([mark.multiple, mark.seconds]);
    level = mark.seconds;
  }
  if (corners.length > 0) corners.push([Math.max(toMultiple, corners.at(-1)?.[0] ?? 0), level]);
  return corners;
}

/** Upper edge of the region where a trip comes too soon, a staircase from `fromMultiple` to the highest hold point. */
export function tooSoonEdge(marks: readonly LimitMark[], fromMultiple: number): Corner[] {
  const corners: Corner[] = [];
  let level = Number.NEGATIVE_INFINITY;
  for (const mark of [...marks].reverse()) {
    if (mark.edge !== "earliest" || mark.seconds <= level) continue;
    if (corners.length > 0) corners.push([mark.multiple, level]);
    corners.push([mark.multiple, mark.seconds]);
    level = mark.seconds;
  }
  if (corners.length > 0) corners.push([Math.min(fromMultiple, corners.at(-1)?.[0] ?? 0), level]);
  return corners.reverse();
}
