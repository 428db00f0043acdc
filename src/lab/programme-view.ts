import type { ProgrammeStep } from "../contract/http.ts";
import type { PlanStep, PlanView, SuspicionView } from "../contract/programme.ts";
import { findTestPoint, programmeFor } from "../core/limits/applicable-rows.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import { requirementWords } from "../core/limits/requirement-words.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { programmeNamed } from "../core/specimen/programme.ts";
import {
  programmeState,
  type SpecimenEvent,
  type StepState,
  type Suspicion,
} from "../core/specimen/programme-state.ts";
import { type AllowedPoint, programmeSteps, samePoint } from "../core/specimen/programme-steps.ts";
import type { Loading, Specimen } from "../core/specimen/specimen.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { currentEntries } from "./amendments-current.ts";
import type { Lab } from "./lab.ts";
import { defaultLimitSet } from "./limit-library.ts";
import { programmeLock } from "./lock-programme.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** A test point for a reader: `200 %, pole 1 alone: must trip within 120 s`. */
function pointWords({ row, loading }: Pick<TestPoint, "row" | "loading">): string {
  return `${formatMultiple(row.multiple)}, ${loadingWords(loading)}: must ${requirementWords(row.requirement)}`;
}

/** The test points that apply to a specimen, in order, each with the newest shot made at it. */
export function programmeView(lab: Lab, specimen: string, limitSet = defaultLimitSet): ProgrammeStep[] {
  const { details } = knownSpecimen(lab, specimen);
  const shots = lab.store.records.shots({ specimen });
  return programmeFor(lab.limits.get(limitSet), details).map((point) => {
    const made = shots.find((shot) => shot.limitRow === point.row.id && shot.loading === point.loading);
    return {
      point,
      words: pointWords(point),
      shot:
        made?.result == null || made.heldSeconds === null
          ? null
          : { id: made.shot, result: made.result, seconds: made.seconds, heldSeconds: made.heldSeconds },
    };
  });
}

type PlannedPoint = AllowedPoint & { point: TestPoint };

/** Every point that a limit set allows for a specimen: in the order of the set, asked ones of a row first. */
function allowedPoints(lab: Pick<Lab, "limits">, limitSet: string, details: Specimen): PlannedPoint[] {
  const set = lab.limits.get(limitSet);
  const asked = programmeFor(set, details);
  const planned = (point: TestPoint, isAsked: boolean): PlannedPoint => ({
    row: point.row.id,
    multiple: point.row.multiple,
    loading: point.loading,
    mustTrip: point.row.requirement.kind !== "hold-for",
    cold: point.row.start === "cold",
    asked: isAsked,
    point,
  });
  const points = asked.map((point) => planned(point, true));
  // On a single pole, that pole and all poles are the same thing.
  const others: Loading[] = details.poles === 1 ? [] : ["pole-1", "pole-2", "pole-3", "all"];
  for (const { row } of asked) {
    for (const loading of others) {
      const found = findTestPoint(set, details, row.multiple, loading);
      if (!found.ok || points.some((one) => samePoint(one, { row: found.point.row.id, loading }))) continue;
      points.push(planned(found.point, false));
    }
  }
  return points;
}

/** What happened to a specimen, oldest first; of its shots only those on points of the limit set. */
function eventsOf(lab: Pick<Lab, "store">, specimen: string, limitSet: string): SpecimenEvent[] {
  const events: { sequence: number; event: SpecimenEvent }[] = [];
  for (const shot of lab.store.records.shots({ specimen })) {
    if (shot.limitSet !== limitSet || shot.closedSequence === null) continue;
    events.push({
      sequence: shot.closedSequence,
      event: {
        kind: "shot",
        shot: shot.shot,
        row: shot.limitRow,
        loading: shot.loading,
        decided: shot.result === "pass" || shot.result === "fail",
        tripped: shot.outcome === "tripped",
      },
    });
  }
  for (const { entry } of currentEntries(lab, "handle-moved")) {
    const { sequence, body } = entry;
    if (body.specimen === specimen)
      events.push({ sequence, event: { kind: "handle", operations: body.operations } });
  }
  return events.sort((a, b) => a.sequence - b.sequence).map((one) => one.event);
}

function suspicionWords(suspicion: Suspicion): string {
  const percent = formatMultiple(suspicion.multiple);
  switch (suspicion.kind) {
    case "higher multiple offered":
      return `No trip in shot ${suspicion.noTrip}: ${percent}, the next higher multiple of the set, tells a jam from a slow trip.`;
    case "jam suspected":
      return `Jam suspected: no trip at ${percent}, nor at ${formatMultiple(suspicion.higher)}. Treat it as closed and unable to open.`;
    case "trips only higher":
      return `No trip at ${percent}, but a trip at ${formatMultiple(suspicion.higher)}: slow or out of calibration, not jammed at that current.`;
    case "no higher multiple":
      return `No trip in shot ${suspicion.noTrip} at ${percent}; the set has no higher multiple that would tell a jam from a slow trip.`;
  }
}

function planStep({ step, state, branch, shot }: StepState, points: readonly PlannedPoint[]): PlanStep {
  const common = { state, branch, because: step.because, shot };
  if (step.kind === "exercise") {
    return {
      ...common,
      kind: "exercise",
      words: `work the handle ${step.times} times by hand, current off and leads de-energised`,
      row: null,
      multiple: null,
      loading: null,
      times: step.times,
    };
  }
  const { row, multiple, loading } = step.point;
  const found = points.find((point) => samePoint(point, step.point));
  const words =
    found === undefined ? `${formatMultiple(multiple)}, ${loadingWords(loading)}` : pointWords(found.point);
  return { ...common, kind: "shot", words, row, multiple, loading, times: null };
}

/** The locked programme of a specimen, step by step, with what became of each and what a no-trip led to. */
export function planView(lab: Pick<Lab, "store" | "limits">, specimen: string): PlanView {
  const { details } = knownSpecimen(lab, specimen);
  const lock = programmeLock(lab, specimen);
  const programme = lock === null ? null : programmeNamed(lock.programme);
  const none = { specimen, label: details.label, lock, steps: [], done: 0, finished: false };
  if (lock === null || programme === null) return { ...none, suspicions: [], jamSuspected: null };
  const points = allowedPoints(lab, lock.limitSet, details);
  const state = programmeState(
    programmeSteps(programme, points),
    points,
    eventsOf(lab, specimen, lock.limitSet),
  );
  const suspicions = state.suspicions.map(
    (one): SuspicionView => ({ kind: one.kind, words: suspicionWords(one) }),
  );
  const jams = suspicions.filter((one) => one.kind === "jam suspected");
  return {
    ...none,
    steps: state.steps.map((one) => planStep(one, points)),
    done: state.steps.filter((one) => one.state === "done").length,
    finished: state.finished,
    suspicions,
    jamSuspected: jams.length === 0 ? null : jams.map((one) => one.words).join(" "),
  };
}
