import { judge } from "../../../src/core/limits/judge.ts";
import type { JudgeContext, JudgedTime } from "../../../src/core/limits/judged-time.ts";
import type { Requirement } from "../../../src/core/limits/limit-set.ts";
import type { DecisionRule, Verdict } from "../../../src/core/limits/verdict.ts";

/** A shot that tripped at a time. */
export const trippedAt = (seconds: number, expanded: number | null = null): JudgedTime => ({
  outcome: "tripped",
  seconds,
  interval: null,
  heldSeconds: seconds,
  expanded,
  standard: expanded === null ? null : expanded / 2,
  excluded: [],
});

/** A shot that was ended by the programme, or by something else, before a trip. */
export const heldFor = (
  heldSeconds: number,
  expanded: number | null = null,
  outcome: "held" | "interrupted" = "held",
): JudgedTime => ({ ...trippedAt(heldSeconds, expanded), outcome, seconds: null });

/** A shot that tripped somewhere in an interval. */
export const trippedWithin = (lower: number, upper: number, expanded: number | null = null): JudgedTime => ({
  ...trippedAt(lower, expanded),
  seconds: null,
  interval: { lower, upper },
});

export const byHand: JudgeContext = {
  limitSet: "entered by hand",
  row: null,
  source: null,
  confirmed: false,
  limitIncludesGuardBand: false,
  currentRatio: null,
};

/** The verdict; an error where there is none. */
export function verdictOf(
  input: JudgedTime,
  requirement: Requirement,
  rule: DecisionRule,
  context: Partial<JudgeContext> = {},
): Verdict {
  const judgement = judge(input, requirement, rule, { ...byHand, ...context });
  if (!judgement.ok) throw new Error(judgement.detail);
  return judgement.verdict;
}
