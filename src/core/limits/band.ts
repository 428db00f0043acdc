import { roundSignificant } from "../units/round.ts";
import { plainNumber, secondsText } from "./_words.ts";
import { judge } from "./judge.ts";
import type { JudgedTime } from "./judged-time.ts";
import type { Requirement, RowSource } from "./limit-set.ts";
import type { DecisionRule, Judgement } from "./verdict.ts";

/** One point of an edge: amperes or a multiple of rated current, and seconds. */
export type EdgePoint = readonly [current: number, seconds: number];

/**
 * A published time-current band: shortest and longest time to trip, each edge made of points joined by straight lines in
 * log-log space. Between them a healthy specimen trips.
 */
export interface Band {
  id: string;
  title: string;
  /** What the first number of each point is. */
  current: "amps" | "multiple";
  minimum: readonly EdgePoint[];
  maximum: readonly EdgePoint[];
  source: RowSource;
}

/** Name of the point at a place of an edge, for messages: its line in a table, or its place in the list. */
export type PointName = (edge: "minimum" | "maximum", at: number) => string;

const placeInList: PointName = (edge, at) => `${edge}[${at}]`;

/**
 * What cannot be meant in the edges of a band, in sentences that name the point: fewer than two points, currents or times that
 * are not positive, currents that do not rise, edges that share no range or that cross anywhere, between points as well. Empty
 * where the band is sound.
 */
export function checkBand(
  band: Pick<Band, "current" | "minimum" | "maximum">,
  nameOf: PointName = placeInList,
): string[] {
  const problems = (["minimum", "maximum"] as const).flatMap((edge) =>
    edgeProblems(band[edge], edge, band.current, nameOf),
  );
  return problems.length > 0 ? problems : crossings(band, nameOf);
}

function edgeProblems(
  points: readonly EdgePoint[],
  edge: "minimum" | "maximum",
  unit: Band["current"],
  nameOf: PointName,
): string[] {
  if (points.length < 2) return [`the ${edge} edge needs at least 2 points but has ${points.length}`];
  const found: string[] = [];
  for (const [at, [current, seconds]] of points.entries()) {
    const name = nameOf(edge, at);
    if (!(current > 0 && Number.isFinite(current)))
      found.push(`${name}: ${unit} must be positive but is ${current}`);
    if (!(seconds > 0 && Number.isFinite(seconds)))
      found.push(`${name}: seconds must be positive but is ${seconds}`);
    const before = points[at - 1];
    if (before !== undefined && !(current > before[0]))
      found.push(`${name}: ${unit} must rise along the ${edge} edge but ${current} follows ${before[0]}`);
  }
  return found;
}

/** Both edges are straight between neighbouring points of either, so that they cross nowhere if they do not cross at a point. */
function crossings(band: Pick<Band, "current" | "minimum" | "maximum">, nameOf: PointName): string[] {
  const shared = sharedRange(band);
  if (shared === null) return ["the minimum and the maximum edge share no range of current"];
  const found: string[] = [];
  for (const edge of ["minimum", "maximum"] as const) {
    for (const [at, [current]] of band[edge].entries()) {
      if (current < shared.from || current > shared.to) continue;
      const shortest = secondsAt(band.minimum, current);
      const longest = secondsAt(band.maximum, current);
      // Interpolated values differ in the last digits where edges touch.
      if (shortest <= longest * (1 + 1e-11)) continue;
      found.push(
        `${nameOf(edge, at)}: the edges cross; at ${band.current === "amps" ? `${current} A` : `${current} times rating`} the minimum is ${secondsText(shortest)} and the maximum ${secondsText(longest)}`,
      );
    }
  }
  return found;
}

/** The range of current in which both edges exist; null where there is none. */
function sharedRange({
  minimum,
  maximum,
}: Pick<Band, "minimum" | "maximum">): { from: number; to: number } | null {
  const from = Math.max(minimum[0]?.[0] ?? Number.NaN, maximum[0]?.[0] ?? Number.NaN);
  const to = Math.min(minimum.at(-1)?.[0] ?? Number.NaN, maximum.at(-1)?.[0] ?? Number.NaN);
  return from <= to ? { from, to } : null;
}

/** Straight line in log-log space; the current must lie on the edge. */
function secondsAt(edge: readonly EdgePoint[], current: number): number {
  const next = edge.findIndex(([at]) => at >= current);
  const right = edge[next];
  if (right === undefined) throw new RangeError(`${current} lies beyond the edge`);
  const left = edge[next - 1];
  if (right[0] === current || left === undefined) return right[1];
  const part = Math.log(current / left[0]) / Math.log(right[0] / left[0]);
  // Machines may differ in the last bits of a logarithm; they must not reach a verdict that is stored.
  return roundSignificant(left[1] * (right[1] / left[1]) ** part);
}

/**
 * Shortest and longest time to trip at a current, in the band's own unit of current; null outside the range that both edges cover.
 *
 * @throws RangeError if the current is not positive
 */
export function bandAt(
  band: Pick<Band, "minimum" | "maximum">,
  current: number,
): { minSeconds: number; maxSeconds: number } | null {
  if (!(current > 0 && Number.isFinite(current)))
    throw new RangeError(`the current must be positive but is ${current}`);
  const shared = sharedRange(band);
  if (shared === null || current < shared.from || current > shared.to) return null;
  return { minSeconds: secondsAt(band.minimum, current), maxSeconds: secondsAt(band.maximum, current) };
}

/** What a band asks at one current. Where the edges touch there is a line and no window: the trip must not come later. */
export function bandRequirement(edges: { minSeconds: number; maxSeconds: number }): Requirement {
  return edges.minSeconds < edges.maxSeconds
    ? { kind: "trip-between", ...edges }
    : { kind: "trip-within", maxSeconds: edges.maxSeconds };
}

/**
 * Holds a time against a band at the current as it was measured, so that the current is not counted twice.
 *
 * @param effectiveAmps effective current of the shot; ratedAmps turns it into a multiple where the band is drawn in multiples
 * @throws RangeError as `judge` does, or if a current is not positive
 */
export function judgeByBand(
  input: JudgedTime,
  band: Band,
  current: { effectiveAmps: number; ratedAmps: number },
  rule: DecisionRule,
  options: { confirmed: boolean },
): Judgement {
  const { effectiveAmps, ratedAmps } = current;
  if (!(ratedAmps > 0)) throw new RangeError(`ratedAmps must be positive but is ${ratedAmps}`);
  const at = band.current === "amps" ? effectiveAmps : effectiveAmps / ratedAmps;
  const edges = bandAt(band, at);
  const unit = band.current === "amps" ? "A" : "times rating";
  if (edges === null) {
    const shared = sharedRange(band);
    const has =
      shared === null ? "no range" : `${plainNumber(shared.from)} to ${plainNumber(shared.to)} ${unit}`;
    return {
      ok: false,
      code: "outside-band",
      detail: `band ${band.id} has no edges at ${plainNumber(at)} ${unit}; it covers ${has}`,
    };
  }
  const judgement = judge(input, bandRequirement(edges), rule, {
    limitSet: band.id,
    row: null,
    source: band.source,
    confirmed: options.confirmed,
    limitIncludesGuardBand: false,
    currentRatio: null,
  });
  if (!judgement.ok) return judgement;
  const where = `Judged by the band ${band.id} at the current as measured, ${plainNumber(at)} ${unit}.`;
  return { ok: true, verdict: { ...judgement.verdict, reasons: [...judgement.verdict.reasons, where] } };
}
