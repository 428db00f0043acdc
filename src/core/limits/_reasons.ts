import { namedList, plainNumber, secondsText } from "./_words.ts";
import { ruleWords, type TwoLimits } from "./decision-rule.ts";
import type { JudgeContext, JudgedTime } from "./judged-time.ts";
import type { Requirement } from "./limit-set.ts";
import { requirementWords } from "./requirement-words.ts";
import type { DecisionRule, Finding } from "./verdict.ts";

/** Below this, a departure of the current from nominal is not worth a sentence. */
const notedDeparture = 0.001;

const asked = (requirement: Requirement) => `the specimen must ${requirementWords(requirement)}`;

/** A trip, where it lies, and by how much it misses a limit. */
export function trippedReason(
  low: number,
  high: number,
  expanded: number | null,
  requirement: Requirement,
): string {
  // Two digits of U, as GUM 7.2.6 has it; the time keeps its digits, since near a limit they decide.
  const uncertainty = expanded === null ? "" : ` (U = ${secondsText(Number(expanded.toPrecision(2)))})`;
  const when =
    low === high
      ? `Tripped after ${secondsText(low)}${uncertainty}`
      : `Tripped between ${secondsText(low)} and ${secondsText(high)}${uncertainty}`;
  const upper = requirement.kind === "hold-for" ? null : requirement.maxSeconds;
  const lower =
    requirement.kind === "hold-for"
      ? requirement.seconds
      : requirement.kind === "trip-between"
        ? requirement.minSeconds
        : null;
  if (upper !== null && low > upper)
    return `${when}, ${secondsText(low - upper)} after the limit; ${asked(requirement)}.`;
  if (lower !== null && high < lower)
    return `${when}, ${secondsText(lower - high)} too early; ${asked(requirement)}.`;
  return `${when}; ${asked(requirement)}.`;
}

/** Current that flowed to its end without a trip. */
export function heldReason(input: JudgedTime, requirement: Requirement): string {
  const held = secondsText(input.heldSeconds);
  if (requirement.kind !== "hold-for") {
    const ended = input.outcome === "interrupted" ? " when the shot was interrupted" : "";
    return `Still closed after ${held} of current${ended}; ${asked(requirement)}.`;
  }
  const ended =
    input.outcome === "interrupted"
      ? " The shot was interrupted, but only after the required time had passed."
      : "";
  return `Held ${held} without a trip; ${asked(requirement)}.${ended} In a hold the current decides, not the clock, so that no guard band is laid on the time.`;
}

/** Stopped before anything could be decided. */
export function notHeldLongEnoughReason(
  input: JudgedTime,
  requirement: Requirement,
  rule: DecisionRule,
  width: number,
): string {
  const verb = input.outcome === "interrupted" ? "Interrupted" : "Ended";
  const stopped = `${verb} after ${secondsText(input.heldSeconds)} of current without a trip`;
  if (requirement.kind === "hold-for")
    return `${stopped}; ${asked(requirement)}, so that nothing is decided.`;
  const needed = requirement.maxSeconds + width;
  const bound =
    input.heldSeconds >= requirement.maxSeconds && rule.kind === "nonbinary"
      ? " What is known so far is Conditional Fail or worse."
      : "";
  return `${stopped}; not tripping counts as a fail only from ${secondsText(needed)} on${width > 0 ? ", the limit with its guard band" : ""}, so that nothing is decided.${bound}`;
}

/** The interval of a trip holds times that would be judged differently. */
export function unclearIntervalReason(low: number, high: number, requirement: Requirement): string {
  return `Tripped at some time between ${secondsText(low)} and ${secondsText(high)}; ${asked(requirement)}, and the rule does not decide alike everywhere in that interval.`;
}

export function uncertaintyMissingReason(input: JudgedTime, requirement: Requirement): string {
  const seen =
    input.outcome === "tripped"
      ? `Tripped${input.seconds === null ? "" : ` after ${secondsText(input.seconds)}`}`
      : `No trip in ${secondsText(input.heldSeconds)} of current`;
  return `${seen}; ${asked(requirement)}. The rule needs the expanded uncertainty of the time, and there is none, so that nothing is decided.`;
}

/** The rule that was applied, and where a published margin takes the place of its guard band. */
export function ruleReason(
  rule: DecisionRule,
  width: number | null,
  limitIncludesGuardBand: boolean,
): string {
  const instead =
    limitIncludesGuardBand && rule.kind !== "simple"
      ? " The published limit already contains a margin for measurement error, so that no guard band is added."
      : "";
  return `Decision rule: ${ruleWords(rule, instead === "" ? width : null, "s")}.${instead}`;
}

/** Guard bands that leave nothing to accept. */
export function acceptanceRefusal(limits: TwoLimits, width: number, rule: DecisionRule): string {
  const ends =
    limits.lower === null
      ? `a limit of ${secondsText(limits.upper ?? 0)}`
      : `limits of ${secondsText(limits.lower)} and ${secondsText(limits.upper ?? 0)}`;
  const most = limits.lower === null ? (limits.upper ?? 0) : ((limits.upper ?? 0) - limits.lower) / 2;
  return `cannot judge: ${ruleWords(rule, width, "s")} leaves no time that could pass with ${ends}; accepted is a guard band of up to ${secondsText(most)}: a smaller r, or a smaller uncertainty`;
}

/** Which way an error of the current points. More current shortens the time, less lengthens it. */
export function currentReasons(
  passes: boolean,
  finding: Finding,
  requirement: Requirement,
  ratio: number | null,
): string[] {
  if (ratio === null || !(Math.abs(ratio - 1) >= notedDeparture)) return [];
  const more = ratio > 1;
  const percent = `${plainNumber(Math.round(Math.abs(ratio - 1) * 10000) / 100)} %`;
  const what = `The effective current was ${percent} ${more ? "above" : "below"} nominal, which ${more ? "shortens" : "lengthens"} the time`;
  const sides: ("upper" | "lower")[] =
    requirement.kind === "hold-for"
      ? ["lower"]
      : requirement.kind === "trip-within"
        ? ["upper"]
        : passes
          ? ["upper", "lower"]
          : finding === "too fast"
            ? ["lower"]
            : ["upper"];
  const favoured = sides.filter((side) => (side === "upper") === (passes ? more : !more));
  const result = passes ? "pass" : "fail";
  if (favoured.length === 0) return [`${what}: at nominal current this ${result} would hold all the more.`];
  const side = sides.length === 2 ? ` against the ${namedList(favoured)} limit` : "";
  return [`${what}: it leaned toward this ${result}${side}, which might not hold at nominal current.`];
}

/** How well the limit is known, and whether the lab has confirmed it. */
export function contextReasons(requirement: Requirement, context: JudgeContext): string[] {
  const { source } = context;
  if (source === null) return ["The limit was entered by hand; no published source stands behind it here."];
  const place = [source.document, source.edition, source.clause].filter((part) => part !== null).join(", ");
  const doubt = source.doubtful ? ", and doubtful even so" : "";
  const reasons =
    source.standing === "our own choice"
      ? [`The test is that of ${place}; its time is our own working value, not a published one.`]
      : [`The limit is that of ${place}: ${source.standing}${doubt}.`];
  if (requirement.kind === "hold-for" && requirement.until !== undefined)
    reasons.push(`The document ends this hold not by a time but when ${requirement.until}.`);
  const named = context.row === null ? context.limitSet : `Row ${context.row} of ${context.limitSet}`;
  reasons.push(
    context.confirmed
      ? `${named} is confirmed: this lab has compared it with its own copy of the document.`
      : `${context.limitSet} is unconfirmed: this lab has not compared it with its own copy of the document.`,
  );
  return reasons;
}
