import { type AllowedPoint, type ProgrammeStep, samePoint } from "./programme-steps.ts";
import type { Loading } from "./specimen.ts";

/** What happened to a specimen, in order. `decided`: the shot gave a pass or a fail; others are to be made again. */
export type SpecimenEvent =
  | { kind: "shot"; shot: string; row: string; loading: Loading; decided: boolean; tripped: boolean }
  | { kind: "handle"; operations: number };

/** A step and what became of it. `shot` is the newest that decided it; `skipped` says why it is left out. */
export interface StepState {
  step: ProgrammeStep;
  /** True for a step that a no-trip added. */
  branch: boolean;
  state: "done" | "next" | "later" | "skipped";
  shot: string | null;
}

/** What a no-trip led to. */
export type Suspicion =
  /** The next higher multiple of the set is offered. */
  | { kind: "higher multiple offered"; multiple: number; noTrip: string }
  /** Held at the higher multiple too. */
  | { kind: "jam suspected"; multiple: number; higher: number; phase: number }
  /** It did trip at the higher multiple. */
  | { kind: "trips only higher"; multiple: number; higher: number }
  /** The set has no higher multiple to tell a jam from a slow trip. */
  | { kind: "no higher multiple"; multiple: number; noTrip: string };

/** Where a specimen stands in its programme. */
export interface ProgrammeState {
  steps: StepState[];
  /** The step to take now; null when the programme is finished. */
  next: ProgrammeStep | null;
  /** One for every no-trip that branched, oldest first. */
  suspicions: Suspicion[];
  finished: boolean;
}

/**
 * Walks through what happened and finds the next step. After a no-trip where a trip was due, the next higher must-trip
 * multiple of the set is offered on the same loading where the set allows it; when that holds too, a jam is suspected and the
 * rest of the phase is left out, so that the handle is exercised next. Handle movements count as exercise once nothing of the
 * phase is left to shoot.
 *
 * @param points all that the limit set allows, as in `programmeSteps`
 * @param events oldest first, since the specimen was received
 */
export function programmeState(
  steps: readonly ProgrammeStep[],
  points: readonly AllowedPoint[],
  events: readonly SpecimenEvent[],
): ProgrammeState {
  const out: StepState[] = [];
  const suspicions: Suspicion[] = [];
  const phases = [...new Set(steps.map((step) => step.phase))];
  let at = 0;
  let next: ProgrammeStep | null = null;
  for (const phase of phases) {
    const planned = steps.filter((step) => step.phase === phase);
    const exercise = planned.find((step) => step.kind === "exercise");
    const queue = planned.flatMap((step) => (step.kind === "shot" ? [{ step, branch: false }] : []));
    let jammed = false;
    /** Events up to which the phase's shots reach. */
    let reached = at;
    const branched = new Set<Loading>();
    for (let i = 0; i < queue.length; i += 1) {
      const one = queue[i] as (typeof queue)[number];
      const { point } = one.step;
      if (jammed) {
        out.push({ ...one, state: "skipped", shot: null });
        continue;
      }
      if (next !== null) {
        out.push({ ...one, state: "later", shot: null });
        continue;
      }
      const made = findShot(events, point, at, exercise === undefined ? null : endOfPhase(events, at));
      if (made === null) {
        next = one.step;
        out.push({ ...one, state: "next", shot: null });
        continue;
      }
      reached = Math.max(reached, made.index + 1);
      out.push({ ...one, state: "done", shot: made.event.shot });
      if (!point.mustTrip || made.event.tripped || one.branch || branched.has(point.loading)) continue;
      branched.add(point.loading);
      const higher = nextHigher(points, point);
      if (higher === null) {
        suspicions.push({ kind: "no higher multiple", multiple: point.multiple, noTrip: made.event.shot });
        continue;
      }
      const branchStep: ProgrammeStep = {
        kind: "shot",
        phase,
        point: higher,
        because: "no trip at the multiple before: does it trip at the next higher one?",
      };
      const already = queue.findIndex((other, j) => j > i && samePoint(other.step.point, higher));
      if (already !== -1) queue.splice(already, 1);
      const seen = findShot(events, higher, made.index + 1, null);
      queue.splice(i + 1, 0, { step: branchStep, branch: true });
      if (seen === null) {
        suspicions.push({
          kind: "higher multiple offered",
          multiple: higher.multiple,
          noTrip: made.event.shot,
        });
      } else if (seen.event.tripped) {
        suspicions.push({
          kind: "trips only higher",
          multiple: point.multiple,
          higher: higher.multiple,
        });
      } else {
        suspicions.push({
          kind: "jam suspected",
          multiple: point.multiple,
          higher: higher.multiple,
          phase,
        });
        reached = Math.max(reached, seen.index + 1);
        out.push({ step: branchStep, branch: true, state: "done", shot: seen.event.shot });
        queue.splice(i + 1, 1);
        jammed = true;
      }
    }
    if (exercise === undefined) continue;
    const worked = next === null ? exercisedBy(events, reached, exercise.times) : null;
    if (next !== null) out.push({ step: exercise, branch: false, state: "later", shot: null });
    else if (worked === null) {
      next = exercise;
      out.push({ step: exercise, branch: false, state: "next", shot: null });
    } else {
      out.push({ step: exercise, branch: false, state: "done", shot: null });
      at = worked;
    }
  }
  return { steps: out, next, suspicions, finished: next === null };
}
