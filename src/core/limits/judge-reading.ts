import { excludingFlags, flagMeanings } from "../signal/flags.ts";
import type { Reading } from "../signal/reading.ts";
import { judge, undecided } from "./judge.ts";
import type { JudgeContext, JudgedTime } from "./judged-time.ts";
import type { TestPoint } from "./limit-set.ts";
import type { DecisionRule, Verdict } from "./verdict.ts";

/** What is known of the limit set beside the test point. */
export interface JudgeReadingOptions {
  confirmed: boolean;
  /** As the set says; false where left out. */
  limitIncludesGuardBand?: boolean;
  /**
   * Expanded uncertainty, in seconds, that a trip at the limit would have had: the guard band of a shot that did not trip, whose
   * reading has no uncertainty of its own. Without it such a shot is undetermined under a rule with a guard band.
   */
  expandedAtLimit?: number | null;
}

/**
 * A reading as `judge` takes it. An opening inside a gap of missing samples is judged as an interval; otherwise the detection
 * interval is already in the uncertainty, and the time is a point.
 */
export function judgedTimeOf(reading: Reading, expandedAtLimit: number | null = null): JudgedTime {
  const tripped = reading.outcome === "tripped";
  return {
    outcome: reading.outcome,
    seconds: tripped ? reading.seconds : null,
    interval: tripped && reading.flags.includes("gap") ? reading.interval : null,
    heldSeconds: reading.heldSeconds,
    expanded: reading.uncertainty?.expanded ?? (tripped ? null : expandedAtLimit),
    standard: reading.uncertainty?.standard ?? null,
    excluded: excludingFlags(reading.flags).map((flag) => {
      const { words, why } = flagMeanings[flag];
      return `Excluded: ${words} ${why}`;
    }),
  };
}

/**
 * Holds a reading against a test point. Flags that exclude leave it without a pass or a fail; other flags stand among the reasons.
 *
 * The shot has been made and must be closed: where the guard bands leave nothing to accept, so that `judge` refuses, the shot is
 * undetermined and its first reason is that refusal.
 *
 * @throws RangeError where the reading contradicts itself or r < 0, as `judge` does
 */
export function judgeReading(
  reading: Reading,
  point: TestPoint,
  rule: DecisionRule,
  options: JudgeReadingOptions,
): Verdict {
  const { row } = point;
  const context: JudgeContext = {
    limitSet: point.limitSet,
    row: row.id,
    source: row.source,
    confirmed: options.confirmed,
    limitIncludesGuardBand: options.limitIncludesGuardBand ?? false,
    currentRatio: point.targetAmps > 0 ? reading.effectiveAmps / point.targetAmps : null,
  };
  const judgement = judge(judgedTimeOf(reading, options.expandedAtLimit), row.requirement, rule, context);
  const verdict = judgement.ok
    ? judgement.verdict
    : undecided([`No verdict: ${judgement.detail}.`], row.requirement, rule, context);
  return { ...verdict, reasons: [...verdict.reasons, ...remarksOf(reading)] };
}

/** What the flags that do not exclude say to a reader. */
export function remarksOf(reading: Pick<Reading, "flags">): string[] {
  const excluding = excludingFlags(reading.flags);
  return reading.flags.filter((flag) => !excluding.includes(flag)).map((flag) => flagMeanings[flag].words);
}
