import { plainNumber } from "./_words.ts";
import { conformance } from "./conformity.ts";
import { acceptanceLimits, decide, guardWidth, ruleWords, type TwoLimits, zoneOf } from "./decision-rule.ts";
import type { InstantaneousRow } from "./limit-set.ts";
import type { DecisionRule, Statement } from "./verdict.ts";

/** What a tolerance is taken from, in amperes: a setting, or the edges of the maker's published band. */
export type InstantaneousBase = { settingAmps: number } | { lowEdgeAmps: number; highEdgeAmps: number };

/** Currents between which an instantaneous trip must act. */
export interface InstantaneousWindow {
  lowestAmps: number;
  highestAmps: number;
}

/**
 * The window of an instantaneous trip: a row's tolerance applied to what the row takes it from.
 *
 * @throws RangeError if a current is not positive, edges are not in order, or the base is not the one that the row is taken from
 */
export function instantaneousWindow(row: InstantaneousRow, base: InstantaneousBase): InstantaneousWindow {
  const fromSetting = row.takenFrom === "the nominal setting";
  if (fromSetting !== "settingAmps" in base) {
    throw new RangeError(
      `the tolerance of ${row.id} is taken from ${row.takenFrom}; found ${"settingAmps" in base ? "a setting" : "the edges of a band"}`,
    );
  }
  const { low, high } =
    "settingAmps" in base
      ? { low: base.settingAmps, high: base.settingAmps }
      : { low: base.lowEdgeAmps, high: base.highEdgeAmps };
  if (!(low > 0 && high >= low && Number.isFinite(high)))
    throw new RangeError(`currents must be positive and in order but are ${low} A and ${high} A`);
  return { lowestAmps: low + low * row.low, highestAmps: high + high * row.high };
}

/** What was found: the current at which it tripped, or the highest current at which it did not. Uncertainties in amperes. */
export interface InstantaneousReading {
  outcome: "tripped" | "no trip";
  amps: number;
  expanded: number | null;
  standard: number | null;
}

/** Trips at too small a current and at too large a one are different findings. */
export interface InstantaneousVerdict {
  result: "pass" | "fail" | "undetermined";
  finding:
    | "within the window"
    | "trips too low"
    | "trips too high"
    | "no trip"
    | "inside the guard band"
    | "not decided";
  statement: Statement | null;
  probability: number | null;
  window: InstantaneousWindow;
  reasons: string[];
}

/** A verdict, or why the rule leaves none. */
export type InstantaneousJudgement =
  | { ok: true; verdict: InstantaneousVerdict }
  | { ok: false; code: "no-acceptance-interval"; detail: string };

/**
 * Holds the current of an instantaneous trip against its window, by the same rules and edges as a time. No trip is a fail only
 * where the current was raised to the upper end plus the guard band.
 *
 * @throws RangeError if a number is negative or not a number, or r < 0
 */
export function judgeInstantaneous(
  reading: InstantaneousReading,
  window: InstantaneousWindow,
  rule: DecisionRule,
): InstantaneousJudgement {
  const { amps, expanded, standard, outcome } = reading;
  if (!(amps >= 0 && Number.isFinite(amps)))
    throw new RangeError(`the current must be 0 or more but is ${amps}`);
  const limits: TwoLimits = { lower: window.lowestAmps, upper: window.highestAmps };
  const width = guardWidth(rule, expanded, false);
  const wanted = `it must act between ${plainNumber(window.lowestAmps)} A and ${plainNumber(window.highestAmps)} A`;
  const applied = `Decision rule: ${ruleWords(rule, width, "A")}.`;
  const seen =
    outcome === "tripped"
      ? `Tripped at ${plainNumber(amps)} A${expanded === null ? "" : ` (U = ${plainNumber(expanded)} A)`}; ${wanted}.`
      : `No trip up to ${plainNumber(amps)} A; ${wanted}.`;
  const verdict = (found: Partial<InstantaneousVerdict>, ...more: string[]): InstantaneousJudgement => ({
    ok: true,
    verdict: {
      result: "undetermined",
      finding: "not decided",
      statement: null,
      probability: null,
      window,
      reasons: [seen, applied, ...more],
      ...found,
    },
  });
  if (width === null)
    return verdict({}, "The rule needs the expanded uncertainty of the current, and there is none.");
  if (acceptanceLimits(limits, width) === null) {
    const most = plainNumber((window.highestAmps - window.lowestAmps) / 2);
    return {
      ok: false,
      code: "no-acceptance-interval",
      detail: `cannot judge: ${ruleWords(rule, width, "A")} leaves no current that could pass; accepted is a guard band of up to ${most} A`,
    };
  }
  if (outcome === "no trip") {
    const needed = window.highestAmps + width;
    if (amps < needed)
      return verdict(
        {},
        `No trip counts as a fail only from ${plainNumber(needed)} A on, so that nothing is decided.`,
      );
    return verdict({
      result: "fail",
      finding: "no trip",
      statement: rule.kind === "nonbinary" ? "Fail" : null,
    });
  }
  const zone = zoneOf(amps, limits, width);
  const { passes, statement } = decide(rule, zone);
  const missed =
    Math.abs(zone) === 1 ? "inside the guard band" : zone > 0 ? "trips too high" : "trips too low";
  return verdict({
    result: passes ? "pass" : "fail",
    finding: passes ? "within the window" : missed,
    statement,
    probability:
      standard === null
        ? null
        : conformance({ y: amps, u: standard, T_L: window.lowestAmps, T_U: window.highestAmps }).p_c,
  });
}
