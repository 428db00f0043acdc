import { plainNumber } from "./_words.ts";
import type { DecisionRule, Statement } from "./verdict.ts";

/** A lower and an upper limit of one quantity; null is none. */
export interface TwoLimits {
  lower: number | null;
  upper: number | null;
}

/**
 * The edge rule, to be printed beside every verdict under a guard band: which side a value on an edge belongs to. Published
 * guidance (ILAC-G8) leaves it open, so that a rule must fix it; this choice is our own.
 */
export const edgeRule =
  "With upper limit TL and guard band w: y <= TL - w is Pass, y <= TL Conditional Pass, y <= TL + w Conditional Fail, above that Fail; mirrored for a lower limit.";

/** @throws RangeError if r is negative or not finite */
export function checkRule(rule: DecisionRule): void {
  if (rule.kind !== "simple" && !(rule.r >= 0 && Number.isFinite(rule.r)))
    throw new RangeError(`r must be 0 or more but is ${rule.r}`);
}

/**
 * Width of the guard band, w = r U (ILAC-G8:09/2019, 4.2.2); null where the rule needs an expanded uncertainty and there is
 * none. A published limit that already contains a margin gets no second one.
 *
 * @param expanded expanded uncertainty U in the unit of the limit
 * @throws RangeError if r or U is negative or not finite
 */
export function guardWidth(
  rule: DecisionRule,
  expanded: number | null,
  limitIncludesGuardBand: boolean,
): number | null {
  checkRule(rule);
  if (expanded !== null && !(expanded >= 0 && Number.isFinite(expanded)))
    throw new RangeError(`the expanded uncertainty must be 0 or more but is ${expanded}`);
  if (rule.kind === "simple" || rule.r === 0 || limitIncludesGuardBand) return 0;
  return expanded === null ? null : rule.r * expanded;
}

/**
 * The values that a rule accepts, TL + w to TL - w, for a quantity that cannot be negative; null where the guard bands leave none
 * (JCGM 106:2012, clause 8).
 */
export function acceptanceLimits(limits: TwoLimits, width: number): TwoLimits | null {
  const lower = limits.lower === null ? null : limits.lower + width;
  const upper = limits.upper === null ? null : limits.upper - width;
  return upper !== null && upper < (lower ?? 0) ? null : { lower, upper };
}

/**
 * Where a value lies: 0 is Pass, 1 Conditional Pass, 2 Conditional Fail, 3 Fail; positive toward the upper limit, negative
 * toward the lower. With a width of 0 only 0 and 3 occur.
 */
export type Zone = -3 | -2 | -1 | 0 | 1 | 2 | 3;

/**
 * The zone of a value under the edge rule.
 *
 * @throws RangeError if the value or the width is not a number, or the guard bands leave nothing to accept
 */
export function zoneOf(value: number, limits: TwoLimits, width: number): Zone {
  // Each comparison below is false for NaN and would fall through to a verdict.
  if (Number.isNaN(value) || !(width >= 0))
    throw new RangeError(`cannot judge ${value} with guard band ${width}`);
  if (acceptanceLimits(limits, width) === null)
    throw new RangeError(`a guard band of ${width} leaves nothing to accept between the limits`);
  const { lower, upper } = limits;
  if (upper !== null && value > upper - width) return value <= upper ? 1 : value <= upper + width ? 2 : 3;
  if (lower !== null && value < lower + width) return value >= lower ? -1 : value >= lower - width ? -2 : -3;
  return 0;
}

const statements: readonly Statement[] = ["Pass", "Conditional Pass", "Conditional Fail", "Fail"];

/** What a rule makes of a zone: pass or not, and the statement of a non-binary rule. */
export function decide(rule: DecisionRule, zone: Zone): { passes: boolean; statement: Statement | null } {
  const depth = Math.abs(zone);
  if (rule.kind !== "nonbinary") return { passes: depth === 0, statement: null };
  return { passes: depth <= 1, statement: statements[depth] ?? "Fail" };
}

/** A rule in words, with its guard band where it has one. `unit` is that of the width. */
export function ruleWords(rule: DecisionRule, width: number | null, unit: string): string {
  if (rule.kind === "simple") return "simple acceptance, without a guard band";
  const name =
    rule.kind === "guard" ? "pass or fail with a guard band" : "non-binary statement with a guard band";
  const found = width === null ? "" : ` = ${plainNumber(width)} ${unit}`;
  return `${name} of ${plainNumber(rule.r)} U${found}`;
}
