import { assembleReading } from "./_assemble-reading.ts";
import type { CurrentFigures } from "./_current-figures.ts";
import { briefSeconds } from "./_effective-current.ts";
import type { Detection } from "./_trip-uncertainty.ts";
import type { Reading, ReadingFlag } from "./reading.ts";
import { checkContext, flowFraction, type ReadingContext } from "./reading-context.ts";

/** True RMS currents at points of time, as a recorder writes them; spacing may vary. */
export interface SampleTable {
  t_s: readonly number[];
  amps: readonly number[];
  /** Line of each row in its file, for messages; left out, the first row is line 2, below a header. */
  lines?: readonly number[];
}

/** A row that cannot be read. */
export interface TableProblem {
  line: number;
  column: "t_s" | "amps";
  found: string;
  accepted: string;
}

/** A reading, or every row that stands against one. */
export type TableReading =
  | { ok: true; reading: Reading }
  | { ok: false; code: "empty" | "bad-rows"; problems: TableProblem[] };

/** A spacing so many times the median is a gap. */
const gapFactor = 3;

/**
 * Reads a shot from a table of times and currents. Onset lies between the last row below a tenth of the target and the
 * first row above, opening likewise; the best point is the middle. A table that begins with current flowing is taken to
 * begin at its onset and flagged so. Still flowing at the last row: held.
 *
 * @returns the reading, or for a table that cannot be read every problem with its line
 * @throws RangeError if the context is not usable, or the two columns differ in length
 */
export function readSampleTable(table: SampleTable, context: ReadingContext): TableReading {
  checkContext(context);
  if (table.t_s.length !== table.amps.length) {
    throw new RangeError(
      `expected as many currents as times but found ${table.amps.length} and ${table.t_s.length}`,
    );
  }
  const problems = problemsOf(table);
  if (problems.length > 0) return { ok: false, code: "bad-rows", problems };
  if (table.t_s.length < 2) {
    const found = `${table.t_s.length} rows`;
    return {
      ok: false,
      code: "empty",
      problems: [{ line: 1, column: "t_s", found, accepted: "two rows or more" }],
    };
  }
  return { ok: true, reading: read(table, context) };
}

function problemsOf({ t_s, amps, lines }: SampleTable): TableProblem[] {
  const problems: TableProblem[] = [];
  let before = Number.NEGATIVE_INFINITY;
  for (const [i, time] of t_s.entries()) {
    const line = lines?.[i] ?? i + 2;
    const current = amps[i] ?? Number.NaN;
    if (!Number.isFinite(time)) {
      problems.push({ line, column: "t_s", found: String(time), accepted: "a number of seconds" });
    } else {
      if (!(time > before)) {
        const accepted = `a time after ${before} s, the row before`;
        problems.push({ line, column: "t_s", found: `${time} s`, accepted });
      }
      before = Math.max(before, time);
    }
    if (!(Number.isFinite(current) && current >= 0)) {
      problems.push({
        line,
        column: "amps",
        found: String(current),
        accepted: "a true RMS current of 0 A or more",
      });
    }
  }
  return problems;
}

function read({ t_s, amps }: SampleTable, context: ReadingContext): Reading {
  const threshold = context.targetAmps * flowFraction;
  const first = amps.findIndex((value) => value >= threshold);
  const last = amps.findLastIndex((value) => value >= threshold);
  const time = (index: number) => t_s[index] ?? 0;
  const between = (from: number, to: number): Detection => ({
    lower: time(from),
    upper: time(to),
    point: (time(from) + time(to)) / 2,
  });
  if (first === -1) {
    const end = { lower: 0, upper: 0, point: 0 };
    const flags: ReadingFlag[] = ["no-onset"];
    return assembleReading(
      { outcome: "interrupted", onset: null, end, heldSeconds: 0, current: null, flags, samples: t_s.length },
      context,
    );
  }
  const onset = between(Math.max(0, first - 1), first);
  const tripped = last < t_s.length - 1;
  const end = between(last, tripped ? last + 1 : last);
  const flags: ReadingFlag[] = [];
  if (first === 0) flags.push("onset-assumed");
  if (hasGap(t_s, first, last)) flags.push("gap");
  const current = figures(t_s, amps, first, last, context);
  return assembleReading(
    {
      outcome: tripped ? "tripped" : "held",
      onset,
      end,
      heldSeconds: tripped ? end.point - onset.point : time(last) - time(first),
      current,
      flags,
      samples: t_s.length,
    },
    context,
  );
}

function hasGap(t_s: readonly number[], first: number, last: number): boolean {
  const spacings = t_s.slice(1).map((time, i) => time - (t_s[i] ?? 0));
  const median = spacings.toSorted((a, b) => a - b)[Math.floor((spacings.length - 1) / 2)] ?? 0;
  // Spacing i lies before row i + 1; those around the onset and the opening count too.
  return spacings.slice(Math.max(0, first - 1), last + 1).some((spacing) => spacing > gapFactor * median);
}

/** Straight lines in squared current between rows with flow: what heats. */
function figures(
  t_s: readonly number[],
  amps: readonly number[],
  first: number,
  last: number,
  context: ReadingContext,
): CurrentFigures {
  const tolerance = (context.regulationPercent / 100) * context.targetAmps;
  const isOutside = (value: number) => Math.abs(value - context.targetAmps) > tolerance;
  let energy = 0;
  let outside = 0;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = 0;
  for (let i = first; i <= last; i += 1) {
    const here = amps[i] ?? 0;
    lowest = Math.min(lowest, here);
    highest = Math.max(highest, here);
    if (i === first) continue;
    const before = amps[i - 1] ?? 0;
    const duration = (t_s[i] ?? 0) - (t_s[i - 1] ?? 0);
    energy += (duration * (before * before + here * here)) / 2;
    outside += (duration * (Number(isOutside(before)) + Number(isOutside(here)))) / 2;
  }
  const duration = (t_s[last] ?? 0) - (t_s[first] ?? 0);
  return {
    effectiveAmps: duration > 0 ? Math.sqrt(energy / duration) : highest,
    lowerBound: false,
    brief: duration < briefSeconds,
    lowestAmps: lowest,
    highestAmps: highest,
    outsideShare: duration > 0 ? outside / duration : Number(isOutside(highest)),
    steadiness: null,
  };
}
