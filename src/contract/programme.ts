import Type from "typebox";
import type { DecisionRule, Verdict } from "../core/limits/verdict.ts";
import type { Loading, OperationState } from "../core/specimen/specimen.ts";
import type { FittedTripModel, UnfittedTripModel } from "../core/thermal/fit-trip-model.ts";
import type { PredictedCurve } from "../core/thermal/predict-trip-curve.ts";
import type { ChosenTimeConstants } from "../core/thermal/two-time-constants.ts";
import { decisionRuleSchema } from "./decision-rule-schema.ts";

/** POST /api/specimens/:id/programme: lock programme, limit set and rule. Answer 201: PlanView. */
export const lockProgrammeBody = Type.Object(
  {
    programme: Type.String({ description: "name of the programme, see GET /api/programmes" }),
    limitSet: Type.String({ description: "identifier of the limit set" }),
    rule: decisionRuleSchema,
    why: Type.Optional(
      Type.String({ maxLength: 1000, description: "reason; needed for an amendment or after first current" }),
    ),
  },
  { additionalProperties: false },
);
export type LockProgramme = Type.Static<typeof lockProgrammeBody>;

/** GET /api/programmes: the named programmes. */
export interface ProgrammeChoice {
  name: string;
  about: string;
}

/** Whether a specimen is cold for its next shot, by the model, and when it will be. */
export interface ColdnessView {
  verdict: "cold" | "not cold" | "unknown";
  /** Steady multiple of rated current that the heat left equals. */
  preload: number;
  words: string;
  secondsUntilCold: number;
  /** Clock time, UTC; null where it is cold now, or no clock can say. */
  coldAt: string | null;
}

/** One step of a locked programme. Fields of the other kind of step are null. */
export interface PlanStep {
  kind: "shot" | "exercise";
  state: "done" | "next" | "later" | "skipped";
  /** Added by a no-trip. */
  branch: boolean;
  words: string;
  because: string;
  row: string | null;
  multiple: number | null;
  loading: Loading | null;
  times: number | null;
  /** The shot that did it. */
  shot: string | null;
}

/** What a no-trip led to, for a reader. */
export interface SuspicionView {
  kind: "higher multiple offered" | "jam suspected" | "trips only higher" | "no higher multiple";
  words: string;
}

/** What was locked, by which entry of the ledger. `amends` is the entry it takes the place of. */
export interface ProgrammeLock {
  sequence: number;
  at: string;
  actor: string;
  programme: string;
  limitSet: string;
  rule: DecisionRule;
  amends: number | null;
  why: string;
  /** Whether no current had flowed through the specimen before this entry. */
  beforeFirstCurrent: boolean;
}

/** GET /api/specimens/:id/plan: the locked programme of a specimen and how far it is; `lock` null where there is none. */
export interface PlanView {
  specimen: string;
  label: string;
  lock: ProgrammeLock | null;
  steps: PlanStep[];
  done: number;
  finished: boolean;
  suspicions: SuspicionView[];
  /** In words, where a jam is suspected; else null. */
  jamSuspected: string | null;
}

/** The next step of one specimen, and whether it may be taken now. */
export interface NextStepView {
  specimen: string;
  label: string;
  programme: string;
  limitSet: string;
  step: PlanStep;
  done: number;
  planned: number;
  allowed: boolean;
  /** Whole sentence: why it is allowed, or what it waits for. */
  words: string;
  waitSeconds: number;
  /** Clock time, UTC, from which it is allowed; null where it is now, or where no clock decides. */
  allowedAt: string | null;
  /** Null for steps without current. */
  coldness: ColdnessView | null;
  suspicions: SuspicionView[];
}

/** GET /api/next: every specimen with an unfinished programme; those that may go now first, then by the time they wait. */
export interface NextView {
  at: string;
  specimens: NextStepView[];
}

/** A shot as a cell of the matrix shows it. Times in seconds. */
export interface MatrixShot {
  shot: string;
  multiple: number;
  loading: Loading;
  state: OperationState;
  result: Verdict["result"] | null;
  glyph: string;
  word: string;
  /** Measured time; null where it did not trip. */
  seconds: number | null;
  /** Expanded uncertainty of that time and its k. */
  expanded: number | null;
  k: number | null;
  heldSeconds: number | null;
  limitSeconds: number | null;
  /** Limit less the time; less than 0 where late. Null where it did not trip or there is no limit. */
  marginSeconds: number | null;
  limitSet: string;
  row: string;
  /** `24.03 ± 0.61 s`, or `> 127 s`. */
  timeWords: string;
}

/** One cell of the matrix: the newest shot there; `earlier` are those before it, newest first. */
export interface MatrixCell extends MatrixShot {
  earlier: MatrixShot[];
}

/** GET /api/specimens/:id/matrix: multiples down, loadings across, as found and exercised apart. */
export interface MatrixView {
  specimen: string;
  label: string;
  multiples: number[];
  loadings: Loading[];
  parts: { state: OperationState["kind"]; cells: (MatrixCell | null)[][] }[];
}

/** The trip model of one group of a specimen's shots. */
export interface FitGroup {
  /** Which shots: all loadings together, or one loading. */
  loading: Loading | "pooled";
  words: string;
  shots: string[];
  fit: FittedTripModel | UnfittedTripModel;
  chosen: ChosenTimeConstants;
  /** For the chart; null where nothing could be fitted. */
  curve: PredictedCurve | null;
}

/** GET /api/specimens/:id/fit: the trip model of a specimen's own shots, pooled first, then each loading. */
export interface SpecimenFitView {
  specimen: string;
  label: string;
  groups: FitGroup[];
  /** Shots that were not used, each with why. */
  leftOut: { shot: string; why: string }[];
}
