import type { MeasurementBasis } from "../contract/ledger-entries.ts";
import { checkRule, guardWidth } from "../core/limits/decision-rule.ts";
import { judge } from "../core/limits/judge.ts";
import type { Requirement } from "../core/limits/limit-set.ts";
import type { DecisionRule } from "../core/limits/verdict.ts";
import { expandedAtLimit } from "../core/signal/expanded-at-limit.ts";
import { firstOrderThermal } from "../core/signal/sensitivity.ts";
import { InputError } from "./input-error.ts";

/** The limit that a shot will be judged by, as far as it is known before the shot. */
export interface LimitAhead {
  requirement: Requirement;
  /** Current over rating at which a trip at the limit would come. */
  multiple: number;
  limitIncludesGuardBand: boolean;
}

/** The time that decides: the upper limit for a trip, the required time for a hold. */
export const decidingSeconds = (requirement: Requirement): number =>
  requirement.kind === "hold-for" ? requirement.seconds : requirement.maxSeconds;

/**
 * Whether a shot can be judged at all under a rule, before any current.
 *
 * @returns width of the guard band that will lie beyond the upper limit, in seconds; 0 for a hold, where the current decides
 * @throws InputError where r < 0, the guard bands leave nothing to accept, or no uncertainty can be foreseen although the rule
 *   needs one
 */
export function checkRuleBeforeShot(
  rule: DecisionRule,
  limit: LimitAhead,
  basis: MeasurementBasis,
  lineHz: number,
): number {
  try {
    checkRule(rule);
  } catch (error) {
    throw new InputError(`decision rule: ${error instanceof Error ? error.message : String(error)}`);
  }
  const { requirement, multiple, limitIncludesGuardBand } = limit;
  if (requirement.kind === "hold-for") return 0;
  const expanded = expandedAtLimit(
    requirement.maxSeconds,
    multiple,
    basis,
    firstOrderThermal(basis.pickup),
    lineHz,
  );
  const width = guardWidth(rule, expanded, limitIncludesGuardBand);
  if (width === null) {
    throw new InputError(
      `the rule ${rule.kind} needs the uncertainty of the time, and at ${multiple} times rating none can be foreseen: pick-up is taken as ${basis.pickup} times rating; accepted here is the rule simple`,
    );
  }
  const nothingYet = {
    outcome: "held",
    seconds: null,
    interval: null,
    heldSeconds: 0,
    expanded,
    standard: null,
    excluded: [],
  } as const;
  const judgement = judge(nothingYet, requirement, rule, {
    limitSet: "",
    row: null,
    source: null,
    confirmed: false,
    limitIncludesGuardBand,
    currentRatio: null,
  });
  if (!judgement.ok) throw new InputError(`refused before any current: ${judgement.detail}`);
  return width;
}
