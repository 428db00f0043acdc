import { type AllowedPoint, type ProgrammeStep, samePoint } from "./programme-steps.ts";
import type { Loading } from "./specimen.ts";

/** What happened to a specimen, in order. `decided`: the shot gave a pass or a fail; others are to be made again. */
export type SpecimenEvent =
  | { kind: "shot"; shot: string; row: string; loading: Loading; decided: boolean; tripped: boolean }
  | { kind: "handle"; operations: number };

/** A step and what became of it. `shot` is the first of its phase that decided it; `skipped`: left out because a jam is suspected. */
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

/** A phase under way: where it begins among the events, and where its last shot ends. */
interface Phase {
  from: number;
  reached: number;
  jammed: boolean;
  /** Loadings for which a no-trip has branched already. */
  branched: Set<Loading>;
}

/**
 * Walks through what happened and finds the next step. After a no-trip where a trip was due, the next higher must-trip
 * multiple of the set is offered, on the same loading where the set allows it; when that holds too, a jam is suspected and
 * the rest of the phase is left out, where the programme has the handle exercised after it. Handle movements count as exercise once nothing
 * of the phase is left to shoot. A shot that decided nothing is to be made again.
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
  let next: ProgrammeStep | null = null;
  let phase: Phase = { from: 0, reached: 0, jammed: false, branched: new Set() };
  const queue = steps.map((step) => ({ step, branch: false }));
  for (let one = queue.shift(); one !== undefined; one = queue.shift()) {
    const { step, branch } = one;
    if (step.kind === "exercise") {
      const end = next === null ? exercisedAt(events, phase.reached, step.times) : null;
      const from = end ?? events.length;
      phase = { from, reached: from, jammed: false, branched: new Set() };
      out.push({
        step,
        branch,
        state: end !== null ? "done" : next === null ? "next" : "later",
        shot: null,
      });
      if (end === null) next ??= step;
      continue;
    }
    if (phase.jammed || next !== null) {
      out.push({ step, branch, state: phase.jammed ? "skipped" : "later", shot: null });
      continue;
    }
    const made = firstDecided(events, step.point, phase.from);
    if (made === null) {
      next = step;
      out.push({ step, branch, state: "next", shot: null });
      continue;
    }
    phase.reached = Math.max(phase.reached, made.index + 1);
    out.push({ step, branch, state: "done", shot: made.event.shot });
    if (branch || made.event.tripped || !step.point.mustTrip || phase.branched.has(step.point.loading))
      continue;
    phase.branched.add(step.point.loading);
    const higher = nextHigher(points, step.point);
    const { multiple } = step.point;
    if (higher === null) {
      suspicions.push({ kind: "no higher multiple", multiple, noTrip: made.event.shot });
      continue;
    }
    const seen = firstDecided(events, higher, phase.from);
    if (seen === null) {
      suspicions.push({
        kind: "higher multiple offered",
        multiple: higher.multiple,
        noTrip: made.event.shot,
      });
    } else if (seen.event.tripped) {
      suspicions.push({ kind: "trips only higher", multiple, higher: higher.multiple });
    } else {
      suspicions.push({ kind: "jam suspected", multiple, higher: higher.multiple, phase: step.phase });
      phase.jammed = queue.some((other) => other.step.kind === "exercise" && other.step.phase === step.phase);
    }
    if (seen !== null) phase.reached = Math.max(phase.reached, seen.index + 1);
    const planned = out.some(
      (other) =>
        other.step.kind === "shot" && other.step.phase === step.phase && samePoint(other.step.point, higher),
    );
    if (planned) continue;
    const later = queue.findIndex(
      (other) =>
        other.step.kind === "shot" && other.step.phase === step.phase && samePoint(other.step.point, higher),
    );
    if (later !== -1) queue.splice(later, 1);
    const added: StepState["step"] = {
      kind: "shot",
      phase: step.phase,
      point: higher,
      because: "after a no-trip: does it trip at the next higher multiple?",
    };
    if (seen === null) queue.unshift({ step: added, branch: true });
    else out.push({ step: added, branch: true, state: "done", shot: seen.event.shot });
  }
  return { steps: out, next, suspicions, finished: next === null };
}

type ShotEvent = Extract<SpecimenEvent, { kind: "shot" }>;

/** The first shot at a point, from an index on, that gave a pass or a fail. */
function firstDecided(
  events: readonly SpecimenEvent[],
  point: AllowedPoint,
  from: number,
): { event: ShotEvent; index: number } | null {
  for (let index = from; index < events.length; index += 1) {
    const event = events[index];
    if (event?.kind === "shot" && event.decided && samePoint(event, point)) return { event, index };
  }
  return null;
}

/** Index after the event with which the handle had been worked `times` since `from`; null where it has not. */
function exercisedAt(events: readonly SpecimenEvent[], from: number, times: number): number | null {
  let worked = 0;
  for (let index = from; index < events.length; index += 1) {
    const event = events[index];
    if (event?.kind !== "handle") continue;
    worked += event.operations;
    if (worked >= times) return index + 1;
  }
  return null;
}

/** The must-trip point at the next higher multiple: on the same loading if it is allowed there, else the first there is. */
function nextHigher(points: readonly AllowedPoint[], from: AllowedPoint): AllowedPoint | null {
  const higher = points.filter((point) => point.mustTrip && point.cold && point.multiple > from.multiple);
  const lowest = Math.min(...higher.map((point) => point.multiple));
  const there = higher.filter((point) => point.multiple === lowest);
  return there.find((point) => point.loading === from.loading) ?? there[0] ?? null;
}
