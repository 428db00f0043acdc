import { checkEventIntervals, type EventInterval } from "./event-interval.ts";
import { solvePositive } from "./solve-positive.ts";

/** A place that may hold probability: above `from` and up to `to`, or exactly at a time where the two are equal. */
interface Cell {
  from: number;
  to: number;
  /** The time at which its probability is shown: the middle of a cell, the end of one without beginning */
  time: number;
}

/** Survival after each time. */
export interface TurnbullStep {
  time: number;
  survival: number;
}

/**
 * Survival curve of largest likelihood for exact, left-, right- and interval-censored times, without a model of its shape.
 *
 * Observations are taken to lie above their lower and at or below their upper bound. Where within a cell the probability
 * lies is not known; it is shown at the middle. Right-censored times are steps too, though survival does not fall there.
 *
 * Maximised by the self-consistency (EM) iteration with Newton steps on the cells that hold probability, until the
 * Kuhn-Tucker conditions hold, so that a cell that should be empty is.
 *
 * Source: Turnbull B W (1976) JRSS B 38:290-295, eq. 3.1-3.3 (cells, self-consistency); Gentleman & Geyer (1994) Biometrika
 * 81:618-623, section 3 (Kuhn-Tucker conditions).
 *
 * @throws RangeError for no observations, or bounds that hold no positive time
 */
export function turnbull(intervals: readonly EventInterval[]): TurnbullStep[] {
  checkEventIntervals(intervals);
  const cells = cellsOf(intervals);
  const members = intervals.map((interval) =>
    cells.flatMap((cell, index) => (holds(interval, cell) ? [index] : [])),
  );
  const masses = largestLikelihood(members, cells.length);
  const falls = new Map<number, number>();
  for (const [index, { time }] of cells.entries()) {
    if (time < Number.POSITIVE_INFINITY) falls.set(time, (falls.get(time) ?? 0) + (masses[index] ?? 0));
  }
  for (const { lower, upper } of intervals) {
    if (upper === Number.POSITIVE_INFINITY && !falls.has(lower)) falls.set(lower, 0);
  }
  let fallen = 0;
  return [...falls]
    .sort(([a], [b]) => a - b)
    .map(([time, fall]) => {
      fallen += fall;
      return { time, survival: Math.max(0, 1 - fallen) };
    });
}

/**
 * Exact times, and the innermost intervals: a lower bound or exact time followed at once by an upper bound. (After an exact
 * time such a cell stays empty, but it is listed, as the survival package for R does.)
 */
function cellsOf(intervals: readonly EventInterval[]): Cell[] {
  // in ties an exact time comes first, then upper bounds close, then lower bounds open
  const bounds = intervals.flatMap(({ lower, upper }) =>
    lower === upper
      ? [{ at: lower, order: 0, opens: true }]
      : [
          { at: lower, order: 2, opens: true },
          { at: upper, order: 1, opens: false },
        ],
  );
  bounds.sort((a, b) => (a.at === b.at ? a.order - b.order : a.at - b.at));
  const exact = new Set(bounds.filter(({ order }) => order === 0).map(({ at }) => at));
  const cells: Cell[] = [...exact].map((at) => ({ from: at, to: at, time: at }));
  for (const [index, { at: from, opens }] of bounds.entries()) {
    const next = bounds[index + 1];
    if (!opens || next === undefined || next.opens || next.at === from) continue;
    const to = next.at;
    cells.push({ from, to, time: Number.isFinite(to - from) ? (from + to) / 2 : to });
  }
  return cells;
}

function holds({ lower, upper }: EventInterval, { from, to }: Cell): boolean {
  if (lower === upper) return from === lower && to === upper;
  return (from >= lower && to <= upper && from < to) || (from === to && from > lower && to <= upper);
}

/** Cell probabilities p maximising Σ ln Σ_(cells of i) p. */
function largestLikelihood(members: readonly (readonly number[])[], count: number): number[] {
  let p = new Array<number>(count).fill(1 / count);
  const total = members.length;
  for (let round = 0; round < 2000; round += 1) {
    for (let pass = 0; pass < 20; pass += 1) p = selfConsistent(members, p);
    p = newtonStep(members, p);
    const slopes = slopesOf(members, p);
    const settled = slopes.every((slope, cell) =>
      (p[cell] ?? 0) > 0 ? Math.abs(slope / total - 1) < 1e-11 : slope / total < 1 + 1e-9,
    );
    if (settled) break;
    // a cell emptied too early may fill again
    for (const [cell, slope] of slopes.entries()) {
      if (p[cell] === 0 && slope / total >= 1 + 1e-9) p[cell] = 1e-6;
    }
  }
  return p;
}

/** Derivative of the log-likelihood by each cell's probability: Σ over its observations of 1 / (their probability). */
function slopesOf(members: readonly (readonly number[])[], p: readonly number[]): number[] {
  const slopes = new Array<number>(p.length).fill(0);
  for (const cells of members) {
    const inverse = 1 / cells.reduce((sum, cell) => sum + (p[cell] ?? 0), 0);
    for (const cell of cells) slopes[cell] = (slopes[cell] ?? 0) + inverse;
  }
  return slopes;
}

function selfConsistent(members: readonly (readonly number[])[], p: readonly number[]): number[] {
  const slopes = slopesOf(members, p);
  const next = p.map((mass, cell) => (mass * (slopes[cell] ?? 0)) / members.length);
  const sum = next.reduce((total, mass) => total + mass, 0);
  return next.map((mass) => mass / sum);
}

/** One Newton step over the cells that hold probability, which empties those it would take below 0; never downhill. */
function newtonStep(members: readonly (readonly number[])[], p: readonly number[]): number[] {
  const slopes = slopesOf(members, p);
  const total = members.length;
  const kept = p.flatMap((mass, cell) =>
    mass > 1e-7 || (mass > 0 && (slopes[cell] ?? 0) / total > 1 - 1e-3) ? [cell] : [],
  );
  const place = new Map(kept.map((cell, index) => [cell, index]));
  const information = kept.map((_, i) => kept.map((_cell, j) => (i === j ? 1e-10 * total : 0)));
  const start = new Array<number>(p.length).fill(0);
  const held = kept.reduce((sum, cell) => sum + (p[cell] ?? 0), 0);
  for (const cell of kept) start[cell] = (p[cell] ?? 0) / held;
  for (const cells of members) {
    const mass = cells.reduce((sum, cell) => sum + (start[cell] ?? 0), 0);
    const places = cells.flatMap((cell) => place.get(cell) ?? []);
    for (const i of places) {
      const row = information[i] as number[];
      for (const j of places) row[j] = (row[j] ?? 0) + 1 / mass / mass;
    }
  }
  const gradient = slopesOf(members, start);
  const right = kept.map((cell) => gradient[cell] ?? 0);
  const toGradient = solvePositive(information, right);
  const toOnes = solvePositive(
    information,
    kept.map(() => 1),
  );
  if (toGradient === null || toOnes === null) return [...p];
  const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
  const multiplier = sumOf(toGradient) / sumOf(toOnes);
  const direction = toGradient.map((value, index) => value - multiplier * (toOnes[index] ?? 0));
  const before = logLikelihood(members, p);
  for (let length = 1; length > 1e-6; length /= 2) {
    const next = [...start];
    for (const [index, cell] of kept.entries()) {
      next[cell] = Math.max(0, (start[cell] ?? 0) + length * (direction[index] ?? 0));
    }
    const sum = sumOf(next);
    const scaled = next.map((mass) => mass / sum);
    if (logLikelihood(members, scaled) >= before - 1e-13 * Math.abs(before)) return scaled;
  }
  return [...p];
}

function logLikelihood(members: readonly (readonly number[])[], p: readonly number[]): number {
  return members.reduce(
    (sum, cells) => sum + Math.log(cells.reduce((mass, cell) => mass + (p[cell] ?? 0), 0)),
    0,
  );
}
