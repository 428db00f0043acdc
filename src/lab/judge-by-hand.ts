import { findTestPoint } from "../core/limits/applicable-rows.ts";
import { judge } from "../core/limits/judge.ts";
import type { JudgeContext, JudgedTime } from "../core/limits/judged-time.ts";
import type { Requirement } from "../core/limits/limit-set.ts";
import { requirementFrom } from "../core/limits/requirement-from.ts";
import type { DecisionRule, Judgement, Verdict } from "../core/limits/verdict.ts";
import type { Loading, Specimen } from "../core/specimen/specimen.ts";
import { judgeByBandByHand } from "./band-by-hand.ts";
import { isConfirmed } from "./confirm-limit-set.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { defaultLimitSet, type LimitLibrary } from "./limit-library.ts";

/** A time to judge without a shot: against a row of a limit set, a band of the lab, or limits entered by hand. */
export interface HandJudgement {
  set?: string | undefined;
  rated?: number | undefined;
  poles?: number | undefined;
  volts?: number | undefined;
  type?: "B" | "C" | "D" | undefined;
  multiple?: number | undefined;
  loading?: Loading | undefined;
  seconds?: number | undefined;
  held?: number | undefined;
  /** Expanded uncertainty of the time and its coverage factor. */
  u?: number | undefined;
  k: number;
  rule: "simple" | "guard" | "nonbinary";
  r: number;
  limitSeconds?: number | undefined;
  lowerSeconds?: number | undefined;
  require: "trip" | "hold";
  /** A band of the lab, judged at `amps`, the current as measured. */
  band?: string | undefined;
  amps?: number | undefined;
}

/**
 * Judges one time.
 *
 * @param lab where bands and confirmations are; null where none is named
 * @throws InputError where the request does not say one thing, or no row applies; it names what there is
 */
export function judgeByHand(
  library: LimitLibrary,
  input: HandJudgement,
  lab: Pick<Lab, "store" | "limits"> | null = null,
): Verdict {
  if ((input.seconds === undefined) === (input.held === undefined)) {
    throw new InputError(
      "exactly one of --seconds (it tripped then) and --held (no trip in that time) is needed",
    );
  }
  if (input.band !== undefined && (input.limitSeconds !== undefined || input.set !== undefined))
    throw new InputError("one limit only: found --band together with --set or --limit-seconds");
  const tripped = input.seconds !== undefined;
  const time: JudgedTime = {
    outcome: tripped ? "tripped" : "held",
    seconds: input.seconds ?? null,
    interval: null,
    heldSeconds: input.seconds ?? input.held ?? 0,
    expanded: input.u ?? null,
    standard: input.u === undefined ? null : input.u / input.k,
    excluded: [],
  };
  const rule: DecisionRule = input.rule === "simple" ? { kind: "simple" } : { kind: input.rule, r: input.r };
  if (rule.kind !== "simple" && input.u === undefined) {
    throw new InputError(`the rule ${rule.kind} needs the expanded uncertainty of the time: --u U`);
  }
  const judgement =
    input.band === undefined
      ? judgeByLimits(library, input, lab, time, rule)
      : judgeByBandByHand(lab, time, rule, { ...input, band: input.band });
  if (!judgement.ok) throw new InputError(`refused to judge: ${judgement.detail}`);
  return judgement.verdict;
}

function judgeByLimits(
  library: LimitLibrary,
  input: HandJudgement,
  lab: Pick<Lab, "store" | "limits"> | null,
  time: JudgedTime,
  rule: DecisionRule,
): Judgement {
  const { requirement, context } =
    input.limitSeconds === undefined ? fromSet(library, input, lab) : byHand(input, input.limitSeconds);
  return judge(time, requirement, rule, context);
}

function byHand(
  input: HandJudgement,
  limitSeconds: number,
): { requirement: Requirement; context: JudgeContext } {
  return {
    requirement: requirementFrom({ require: input.require, limitSeconds, lowerSeconds: input.lowerSeconds }),
    context: {
      limitSet: "entered by hand",
      row: null,
      source: null,
      confirmed: false,
      limitIncludesGuardBand: false,
      currentRatio: null,
    },
  };
}

function fromSet(
  library: LimitLibrary,
  input: HandJudgement,
  lab: Pick<Lab, "store" | "limits"> | null,
): { requirement: Requirement; context: JudgeContext } {
  const set = library.get(input.set ?? defaultLimitSet);
  const { rated, multiple, poles } = input;
  if (rated === undefined || multiple === undefined || poles === undefined) {
    throw new InputError(
      "to judge against a limit set --rated, --poles and --multiple are needed; or give --limit-seconds",
    );
  }
  if (poles !== 1 && poles !== 2 && poles !== 3) {
    throw new InputError(`--poles: found ${poles}; accepted: 1, 2, 3`);
  }
  if (
    input.volts === undefined &&
    set.rows.some((row) => row.voltsOver !== undefined || row.voltsTo != null)
  ) {
    throw new InputError(`the set ${set.id} has classes of voltage: --volts is needed`);
  }
  const specimen: Specimen = {
    label: "judged by hand",
    ratedAmps: rated,
    poles,
    // Sets without classes of voltage do not look at it.
    volts: input.volts ?? 240,
    ...(input.type === undefined ? {} : { typeLetter: input.type }),
  };
  const found = findTestPoint(set, specimen, multiple, input.loading);
  if (!found.ok) throw new InputError(found.detail);
  const { row } = found.point;
  return {
    requirement: row.requirement,
    context: {
      limitSet: set.id,
      row: row.id,
      source: row.source,
      confirmed: lab !== null && isConfirmed(lab, set.id, row.id),
      limitIncludesGuardBand: set.limitIncludesGuardBand,
      currentRatio: null,
    },
  };
}
