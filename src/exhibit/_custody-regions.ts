import type { CustodyLine, CustodyRemark } from "../contract/custody-schema.ts";
import { remarkLetter } from "./_remark-letter.ts";
import { isDated, type Knots } from "./_timeline-knots.ts";

/** A remark on the timeline: between which moments, and in the lanes of which holders. */
export interface Region {
  kind: CustodyRemark["kind"];
  letter: string;
  /** Numbers of the events that it follows from. */
  numbers: readonly number[];
  /** Place of the moment where it begins; null for a time before the first event. */
  from: number | null;
  to: number;
  holders: readonly [string, string];
}

/** Where each remark stands. A gap and an overlap take a stretch of time, everything else the moment of its last event. */
export function custodyRegions(
  lines: readonly CustodyLine[],
  remarks: readonly CustodyRemark[],
  knots: Knots,
): Region[] {
  return remarks.flatMap(({ kind, entries }, i) => {
    const places = lines.flatMap((line, at) => (entries.includes(line.sequence) ? [at] : []));
    const [last, before] = [places.at(-1), places.at(-2)];
    if (last === undefined) return [];
    const line = lines[last] as CustodyLine;
    const begins = knots.begins[last] ?? 0;
    const told = { kind, letter: remarkLetter(i), numbers: places.map((at) => at + 1) };
    const alone: Region = { ...told, from: begins, to: begins, holders: [line.event.to, line.event.to] };
    if (kind !== "gap" && kind !== "overlap") return [alone];
    if (before === undefined)
      return [{ ...told, from: null, to: begins, holders: [line.event.from, line.event.from] }];
    const earlier = lines[before] as CustodyLine;
    const ended = knots.ends[before] ?? begins;
    const { observedUntil } = earlier.event;
    if (
      kind === "overlap" &&
      observedUntil !== null &&
      observedUntil > line.event.observedAt &&
      isDated(observedUntil)
    )
      return [{ ...told, from: begins, to: ended, holders: [earlier.event.to, line.event.to] }];
    return [
      { ...told, from: Math.min(ended, begins), to: begins, holders: [earlier.event.to, line.event.from] },
    ];
  });
}

const kindWords: Readonly<Record<CustodyRemark["kind"], string>> = {
  gap: "gap",
  overlap: "overlap, two holders at one time",
  seal: "seal not accounted for",
  "late entry": "entered late",
  order: "out of order",
};

/** What remarks say, in few words, by kind: `gap: A (2 and 3); entered late: B (3), D (7)`. */
export function regionWords(regions: readonly Region[]): string {
  return [...new Set(regions.map(({ kind }) => kind))]
    .map((kind) => {
      const those = regions.filter((region) => region.kind === kind);
      return `${kindWords[kind]}: ${those.map(({ letter, numbers }) => `${letter} (${listed(numbers)})`).join(", ")}`;
    })
    .join("; ");
}

const listed = (numbers: readonly number[]): string =>
  numbers.length < 2 ? numbers.join("") : `${numbers.slice(0, -1).join(", ")} and ${numbers.at(-1)}`;
