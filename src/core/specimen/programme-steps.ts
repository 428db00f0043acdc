import type { Programme } from "./programme.ts";
import type { Loading } from "./specimen.ts";

/** A test point that a limit set allows for a specimen, as a programme sees it. */
export interface AllowedPoint {
  /** Identifier of the row in the limit set. */
  row: string;
  multiple: number;
  loading: Loading;
  /** True where the specimen must trip, false where it must hold. */
  mustTrip: boolean;
  /** False where the test begins straight after another one. */
  cold: boolean;
  /** Whether the limit set itself asks for this loading, or only allows it. */
  asked: boolean;
}

/** One step of a programme. Steps with the same `phase` lie between the same two exercises of the handle. */
export type ProgrammeStep =
  | { kind: "shot"; phase: number; point: AllowedPoint; because: string }
  | { kind: "exercise"; phase: number; times: number; because: string };

/** Whether two points are the same row on the same loading. */
export const samePoint = (
  a: Pick<AllowedPoint, "row" | "loading">,
  b: Pick<AllowedPoint, "row" | "loading">,
): boolean => a.row === b.row && a.loading === b.loading;

/**
 * The steps of a programme for one specimen.
 *
 * @param points in the order of the limit set, loadings in the order of the poles; the first among them that must trip from
 * cold is the first trip point. A loading that the row of that point does not allow is taken from the next row that must trip and does.
 */
export function programmeSteps(programme: Programme, points: readonly AllowedPoint[]): ProgrammeStep[] {
  const steps: ProgrammeStep[] = [];
  let phase = 0;
  for (const part of programme.parts) {
    if (part.kind === "exercise") {
      steps.push({ kind: "exercise", phase, times: part.times, because: part.because });
      phase += 1;
      continue;
    }
    for (const point of pointsOf(part.at, part.loadings, points)) {
      const planned = steps.some(
        (step) => step.kind === "shot" && step.phase === phase && samePoint(step.point, point),
      );
      if (!planned) steps.push({ kind: "shot", phase, point, because: part.because });
    }
  }
  return steps;
}

type Shots = Extract<Programme["parts"][number], { kind: "shots" }>;

function pointsOf(
  at: Shots["at"],
  loadings: Shots["loadings"],
  points: readonly AllowedPoint[],
): AllowedPoint[] {
  const among = at === "every point" ? points : points.filter((point) => point.mustTrip && point.cold);
  if (loadings === "as the set asks") return among.filter((point) => point.asked);
  const fitting = among.filter((point) => {
    if (loadings === "first of the point") return point.asked;
    return (loadings === "all poles") === (point.loading === "all");
  });
  const [first] = fitting;
  if (first === undefined) return [];
  if (at === "every point") return fitting;
  return loadings === "first of the point" ? [first] : fitting.filter((point) => point.row === first.row);
}
