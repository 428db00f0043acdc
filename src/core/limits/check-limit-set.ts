import { ratingRange } from "./_words.ts";
import type { InstantaneousRow, LimitRow, LimitSet, RowSource } from "./limit-set.ts";

/**
 * What a limit set says that cannot be meant, in whole sentences that each name the row: values that are not positive,
 * ranges that overlap or leave a gap within one test, a starting state that refers to nothing, an incomplete source.
 * Empty where the set is sound. The shape itself is the business of the JSON Schema.
 */
export function checkLimitSet(set: LimitSet): string[] {
  const instantaneous = set.instantaneous ?? [];
  const tests = new Set(set.rows.map((row) => row.test));
  return [
    ...(set.rows.length + instantaneous.length === 0 ? ["the set has no rows"] : []),
    ...repeated([...set.rows, ...instantaneous].map((row) => row.id)),
    ...set.rows.flatMap((row) => rowProblems(row, tests).map((problem) => `row ${row.id}: ${problem}`)),
    ...instantaneous.flatMap((row) =>
      instantaneousProblems(row).map((problem) => `instantaneous row ${row.id}: ${problem}`),
    ),
    ...overlaps(set.rows),
    ...[...tests].flatMap((test) => gaps(set.rows.filter((row) => row.test === test))),
  ];
}

function repeated(ids: readonly string[]): string[] {
  return [...new Set(ids.filter((id, at) => ids.indexOf(id) !== at))].map(
    (id) => `row ${id}: the id is used twice`,
  );
}

const isPositive = (value: number) => value > 0 && Number.isFinite(value);

function rowProblems(row: LimitRow, tests: ReadonlySet<string>): string[] {
  const found: string[] = [];
  if (!isPositive(row.multiple)) found.push(`the multiple must be positive but is ${row.multiple}`);
  const { requirement, start, ambient } = row;
  const times =
    requirement.kind === "hold-for"
      ? [requirement.seconds]
      : requirement.kind === "trip-within"
        ? [requirement.maxSeconds]
        : [requirement.minSeconds, requirement.maxSeconds];
  for (const time of times) if (!isPositive(time)) found.push(`times must be positive but one is ${time} s`);
  if (requirement.kind === "trip-between" && !(requirement.minSeconds < requirement.maxSeconds)) {
    found.push(
      `the earliest trip must come before the latest but they are ${requirement.minSeconds} s and ${requirement.maxSeconds} s`,
    );
  }
  found.push(...rangeProblems(row.ratedOverAmps, row.ratedToAmps, "rated current", "A"));
  found.push(...rangeProblems(row.voltsOver ?? 0, row.voltsTo ?? null, "rated voltage", "V"));
  if (typeof start === "object" && (start.after === row.test || !tests.has(start.after))) {
    found.push(`it starts after test "${start.after}", which is not another test of this set`);
  }
  if (ambient !== null && !(ambient.lowestCelsius <= ambient.highestCelsius)) {
    found.push(
      `the lowest ambient must not exceed the highest but they are ${ambient.lowestCelsius} and ${ambient.highestCelsius} degrees C`,
    );
  }
  return [...found, ...sourceProblems(row.source)];
}

function rangeProblems(over: number, to: number | null, what: string, unit: string): string[] {
  const sound = over >= 0 && Number.isFinite(over) && (to === null || (isPositive(to) && to >= over));
  return sound ? [] : [`the range of ${what} must rise from 0 or more but is over ${over} to ${to} ${unit}`];
}

function instantaneousProblems(row: InstantaneousRow): string[] {
  const found: string[] = [];
  if (!(row.low > -1 && row.low <= 0 && row.high >= 0 && row.low < row.high && Number.isFinite(row.high))) {
    found.push(
      `the tolerance must run from above -1 and at most 0 to 0 or more but is ${row.low} to ${row.high}`,
    );
  }
  if (row.withinSeconds !== undefined && !isPositive(row.withinSeconds))
    found.push(`the time must be positive but is ${row.withinSeconds} s`);
  return [...found, ...sourceProblems(row.source)];
}

const standings = ["read in the document", "seen second-hand", "from memory", "our own choice"];

function sourceProblems(source: RowSource): string[] {
  const found: string[] = [];
  if (source.document.trim() === "") found.push("the source names no document");
  if (source.note.trim() === "") found.push("the source has no note on what was seen");
  if (!standings.includes(source.standing))
    found.push(`the standing must be one of ${standings.join(", ")} but is ${source.standing}`);
  if (source.doubtful && source.standing !== "from memory")
    found.push(`only what is from memory can be doubtful, but the standing is ${source.standing}`);
  return found;
}

const upperEnd = (to: number | null | undefined) => to ?? Number.POSITIVE_INFINITY;

/** Ranges exclude the lower and include the upper end; both the same is that one value. */
function rangesMeet(overA: number, toA: number, overB: number, toB: number): boolean {
  if (overA === toA) return overB === toB ? toA === toB : toA > overB && toA <= toB;
  if (overB === toB) return toB > overA && toB <= toA;
  return overA < toB && overB < toA;
}

function couldBothApply(a: LimitRow, b: LimitRow): boolean {
  const lettersMeet =
    a.typeLetters === undefined ||
    b.typeLetters === undefined ||
    a.typeLetters.some((letter) => b.typeLetters?.includes(letter));
  const calibrationsMeet =
    a.calibratedCelsius === undefined ||
    b.calibratedCelsius === undefined ||
    a.calibratedCelsius === b.calibratedCelsius;
  const loadingsMeet = a.loading === "either" || b.loading === "either" || a.loading === b.loading;
  return (
    lettersMeet &&
    calibrationsMeet &&
    loadingsMeet &&
    rangesMeet(a.voltsOver ?? 0, upperEnd(a.voltsTo), b.voltsOver ?? 0, upperEnd(b.voltsTo)) &&
    rangesMeet(a.ratedOverAmps, upperEnd(a.ratedToAmps), b.ratedOverAmps, upperEnd(b.ratedToAmps))
  );
}

function overlaps(rows: readonly LimitRow[]): string[] {
  const found: string[] = [];
  for (const [at, a] of rows.entries()) {
    for (const b of rows.slice(at + 1)) {
      if (a.test !== b.test || !couldBothApply(a, b)) continue;
      found.push(
        `rows ${a.id} and ${b.id} of test "${a.test}" overlap: ${ratingRange(a.ratedOverAmps, a.ratedToAmps, "A")}, and ${ratingRange(b.ratedOverAmps, b.ratedToAmps, "A")}`,
      );
    }
  }
  return found;
}

/** Gaps and disorder between neighbours of one test, apart for each type letter, voltage class, marked ambient and loading. */
function gaps(rows: readonly LimitRow[]): string[] {
  const found = new Set<string>();
  const letters = new Set([null, ...rows.flatMap((row) => row.typeLetters ?? [])]);
  for (const letter of letters) {
    const groups = new Map<string, LimitRow[]>();
    for (const row of rows) {
      if (letter !== null && row.typeLetters?.includes(letter) !== true) continue;
      if (letter === null && row.typeLetters !== undefined) continue;
      const key = [row.voltsOver ?? 0, row.voltsTo ?? null, row.calibratedCelsius, row.loading].join();
      groups.set(key, [...(groups.get(key) ?? []), row]);
    }
    for (const group of groups.values()) {
      for (const [at, row] of group.entries()) {
        const before = group[at - 1];
        if (before === undefined || row.ratedOverAmps === before.ratedToAmps) continue;
        const isSingle = row.ratedOverAmps === row.ratedToAmps;
        if (row.ratedOverAmps < upperEnd(before.ratedToAmps)) {
          found.add(
            `row ${row.id}: ratings must rise within a test, but it follows row ${before.id}, which is for ${ratingRange(before.ratedOverAmps, before.ratedToAmps, "A")}`,
          );
        } else if (!isSingle) {
          found.add(
            `row ${row.id}: ratings over ${before.ratedToAmps} up to ${row.ratedOverAmps} A are missing between it and row ${before.id}`,
          );
        }
      }
    }
  }
  return [...found];
}
