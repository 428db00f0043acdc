import {
  acceptanceRefusal,
  contextReasons,
  currentReasons,
  heldReason,
  notHeldLongEnoughReason,
  ruleReason,
  trippedReason,
  uncertaintyMissingReason,
  unclearIntervalReason,
} from "./_reasons.ts";
import { conformance } from "./conformity.ts";
import {
  acceptanceLimits,
  checkRule,
  decide,
  guardWidth,
  type TwoLimits,
  type Zone,
  zoneOf,
} from "./decision-rule.ts";
import type { JudgeContext, JudgedTime } from "./judged-time.ts";
import type { Requirement } from "./limit-set.ts";
import type { DecisionRule, Finding, Judgement, Statement, Verdict } from "./verdict.ts";

/**
 * Holds a measured time against a requirement under a decision rule.
 *
 * A trip is judged by the edge rule of `decision-rule.ts`. Not tripping is a fail only when the current was held at least to
 * the upper limit plus the guard band, and before that undetermined; a hold is passed once the required time is reached, by
 * whatever the shot was ended afterwards. An interval gives a verdict only where all of it is decided alike. Too fast and too
 * slow are different findings. A shot that cannot be used is excluded, whatever it shows.
 *
 * Refuses, without a verdict, where the guard bands leave nothing to accept.
 *
 * @throws RangeError if a number is negative or not a number, r < 0, limits are not in order, or the outcome and its times contradict
 *   each other
 */
export function judge(
  input: JudgedTime,
  requirement: Requirement,
  rule: DecisionRule,
  context: JudgeContext,
): Judgement {
  checkRule(rule);
  const limits = limitsOf(requirement);
  const without = undecided([], requirement, rule, context);
  const verdict = (found: Partial<Verdict>, reasons: readonly string[]): Judgement => ({
    ok: true,
    verdict: { ...without, ...found, reasons: [...reasons, ...without.reasons] },
  });
  if (input.excluded.length > 0) return verdict({ result: "excluded" }, input.excluded);
  checkInput(input);

  const width = guardWidth(rule, input.expanded, context.limitIncludesGuardBand);
  if (width !== null && acceptanceLimits(limits, width) === null) {
    return { ok: false, code: "no-acceptance-interval", detail: acceptanceRefusal(limits, width, rule) };
  }
  const explainRule = ruleReason(rule, width, context.limitIncludesGuardBand);
  const settled = (passes: boolean, finding: Finding, more: Partial<Verdict>, reason: string): Judgement =>
    verdict({ result: passes ? "pass" : "fail", finding, ...more }, [
      reason,
      explainRule,
      ...currentReasons(passes, finding, requirement, context.currentRatio),
    ]);
  const statement = (pass: boolean): Statement | null =>
    rule.kind === "nonbinary" ? (pass ? "Pass" : "Fail") : null;

  if (
    input.outcome !== "tripped" &&
    requirement.kind === "hold-for" &&
    input.heldSeconds >= requirement.seconds
  ) {
    return settled(true, "held as required", { statement: statement(true) }, heldReason(input, requirement));
  }
  if (width === null) return verdict({}, [uncertaintyMissingReason(input, requirement), explainRule]);
  if (input.outcome !== "tripped") {
    if (limits.upper !== null && input.heldSeconds >= limits.upper + width) {
      return settled(false, "no trip", { statement: statement(false) }, heldReason(input, requirement));
    }
    return verdict({}, [notHeldLongEnoughReason(input, requirement, rule, width), explainRule]);
  }

  const { low, high } = timesOf(input);
  const first = zoneOf(low, limits, width);
  const last = zoneOf(high, limits, width);
  const early = decide(rule, first);
  const late = decide(rule, last);
  const alike =
    rule.kind === "nonbinary"
      ? first === last
      : early.passes === late.passes && (early.passes || Math.sign(first) === Math.sign(last));
  if (!alike) return verdict({}, [unclearIntervalReason(low, high, requirement), explainRule]);
  // The milder end speaks for the interval: what holds there holds for all of it.
  const zone = Math.abs(first) <= Math.abs(last) ? first : last;
  return settled(
    early.passes,
    findingOf(zone, early.passes, requirement),
    {
      statement: early.statement,
      probability: low === high ? conformityOf(low, input.standard, limits) : null,
      limitSeconds: zone < 0 ? limits.lower : without.limitSeconds,
    },
    trippedReason(low, high, input.expanded, requirement),
  );
}

/** A verdict that decides nothing, with its reasons, followed by how well the limit is known. */
export function undecided(
  reasons: readonly string[],
  requirement: Requirement,
  rule: DecisionRule,
  context: JudgeContext,
): Verdict {
  return {
    result: "undetermined",
    finding: "not decided",
    statement: null,
    probability: null,
    limitSeconds: requirement.kind === "hold-for" ? requirement.seconds : requirement.maxSeconds,
    limitSet: context.limitSet,
    row: context.row,
    rule,
    confirmed: context.confirmed,
    reasons: [...reasons, ...contextReasons(requirement, context)],
  };
}

function limitsOf(requirement: Requirement): TwoLimits {
  const limits: TwoLimits =
    requirement.kind === "hold-for"
      ? { lower: requirement.seconds, upper: null }
      : {
          lower: requirement.kind === "trip-between" ? requirement.minSeconds : null,
          upper: requirement.maxSeconds,
        };
  const { lower, upper } = limits;
  const sound =
    [lower, upper].every((limit) => limit === null || (limit > 0 && Number.isFinite(limit))) &&
    (lower === null || upper === null || lower < upper);
  if (!sound) throw new RangeError(`limits must be positive and in order but are ${lower} s and ${upper} s`);
  return limits;
}

function checkInput(input: JudgedTime): void {
  const { outcome, seconds, interval, heldSeconds, expanded, standard } = input;
  for (const [name, value] of Object.entries({
    seconds,
    "the interval's lower end": interval?.lower ?? null,
    "the interval's upper end": interval?.upper ?? null,
    heldSeconds,
    "the expanded uncertainty": expanded,
    "the standard uncertainty": standard,
  })) {
    if (value !== null && !(value >= 0 && Number.isFinite(value)))
      throw new RangeError(`${name} must be 0 or more but is ${value}`);
  }
  if (outcome !== "tripped" && (seconds !== null || interval !== null))
    throw new RangeError(
      `a shot that was ${outcome} has no time to a trip; found ${seconds ?? "an interval"}`,
    );
  if (outcome === "tripped" && seconds === null && interval === null)
    throw new RangeError("a shot that tripped needs a time or an interval; found neither");
  if (interval !== null && interval.lower > interval.upper)
    throw new RangeError(`the interval must be in order but is ${interval.lower} s to ${interval.upper} s`);
}

function timesOf({ seconds, interval }: JudgedTime): { low: number; high: number } {
  if (interval !== null) return { low: interval.lower, high: interval.upper };
  if (seconds === null) throw new RangeError("there is no time to judge");
  return { low: seconds, high: seconds };
}

function findingOf(zone: Zone, passes: boolean, requirement: Requirement): Finding {
  const isHold = requirement.kind === "hold-for";
  if (passes) return isHold ? "held as required" : "tripped in time";
  if (Math.abs(zone) === 1) return "inside the guard band";
  if (zone > 0) return "late trip";
  return isHold ? "nuisance trip" : "too fast";
}

function conformityOf(y: number, u: number | null, limits: TwoLimits): number | null {
  if (u === null) return null;
  const T_L = limits.lower ?? Number.NEGATIVE_INFINITY;
  const T_U = limits.upper ?? Number.POSITIVE_INFINITY;
  return conformance({ y, u, T_L, T_U }).p_c;
}
