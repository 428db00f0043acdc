import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { judge } from "../../../src/core/limits/judge.ts";
import type { JudgedTime } from "../../../src/core/limits/judged-time.ts";
import type { Requirement } from "../../../src/core/limits/limit-set.ts";
import type { DecisionRule, Verdict } from "../../../src/core/limits/verdict.ts";
import { byHand, heldFor, trippedAt, trippedWithin } from "./judge-cases.ts";

const time = fc.double({ min: 0, max: 1e4, noNaN: true });
const limit = fc.double({ min: 0.01, max: 1e4, noNaN: true });
const uncertainty = fc.option(fc.double({ min: 0, max: 100, noNaN: true }), { nil: null });
const r = fc.double({ min: 0, max: 3, noNaN: true });
const rule: fc.Arbitrary<DecisionRule> = fc.oneof(
  fc.constant<DecisionRule>({ kind: "simple" }),
  r.map((width): DecisionRule => ({ kind: "guard", r: width })),
  r.map((width): DecisionRule => ({ kind: "nonbinary", r: width })),
);
const requirement: fc.Arbitrary<Requirement> = fc.oneof(
  limit.map((maxSeconds): Requirement => ({ kind: "trip-within", maxSeconds })),
  limit.map((seconds): Requirement => ({ kind: "hold-for", seconds })),
  fc
    .tuple(limit, limit)
    .filter(([a, b]) => a !== b)
    .map(
      ([a, b]): Requirement => ({
        kind: "trip-between",
        minSeconds: Math.min(a, b),
        maxSeconds: Math.max(a, b),
      }),
    ),
);
/** Any shot, with times near the limits as well as anywhere. */
const shot = fc
  .tuple(time, time, uncertainty, fc.constantFrom("tripped", "held", "interrupted", "interval"))
  .map(([a, b, expanded, kind]): JudgedTime => {
    if (kind === "tripped") return trippedAt(a, expanded);
    if (kind === "interval") return trippedWithin(Math.min(a, b), Math.max(a, b), expanded);
    return heldFor(a, expanded, kind === "held" ? "held" : "interrupted");
  });

/** The verdict, or null where the rule leaves nothing to judge. */
function verdictOrNull(input: JudgedTime, required: Requirement, decisionRule: DecisionRule): Verdict | null {
  const judgement = judge(input, required, decisionRule, byHand);
  return judgement.ok ? judgement.verdict : null;
}

const failures = ["late trip", "no trip", "inside the guard band", "too fast", "nuisance trip"];

describe("judge", () => {
  it("gives every shot one result, with the finding that belongs to it", () => {
    fc.assert(
      fc.property(shot, requirement, rule, (input, required, decisionRule) => {
        const verdict = verdictOrNull(input, required, decisionRule);
        if (verdict === null) return;
        const { result, finding, statement, reasons } = verdict;
        const findings =
          result === "pass"
            ? ["tripped in time", "held as required"]
            : result === "fail"
              ? failures
              : ["not decided"];
        expect(findings).toContain(finding);
        if (decisionRule.kind !== "nonbinary" || result === "undetermined") expect(statement).toBeNull();
        else expect(statement?.endsWith("Pass")).toBe(result === "pass");
        expect(reasons.length).toBeGreaterThan(0);
        expect(reasons.join(" ")).not.toMatch(/NaN|undefined|null|Infinity/);
      }),
      { numRuns: 2000 },
    );
  });

  it("never lets a slower trip do better against an upper limit", () => {
    fc.assert(
      fc.property(time, time, limit, uncertainty, rule, (a, b, maxSeconds, expanded, decisionRule) => {
        const rank = (seconds: number) => {
          const verdict = verdictOrNull(
            trippedAt(seconds, expanded),
            { kind: "trip-within", maxSeconds },
            decisionRule,
          );
          if (verdict === null || verdict.result === "undetermined") return 0;
          const statements = ["Fail", "Conditional Fail", "Conditional Pass", "Pass"];
          return verdict.statement === null
            ? Number(verdict.result === "pass")
            : statements.indexOf(verdict.statement);
        };
        expect(rank(Math.max(a, b))).toBeLessThanOrEqual(rank(Math.min(a, b)));
      }),
      { numRuns: 2000 },
    );
  });

  it("never lets a longer time without a trip turn a fail back, and never passes one that had to trip", () => {
    fc.assert(
      fc.property(time, time, limit, uncertainty, rule, (a, b, maxSeconds, expanded, decisionRule) => {
        const required: Requirement = { kind: "trip-within", maxSeconds };
        const shorter = verdictOrNull(heldFor(Math.min(a, b), expanded), required, decisionRule);
        const longer = verdictOrNull(heldFor(Math.max(a, b), expanded), required, decisionRule);
        expect(shorter?.result).not.toBe("pass");
        expect(longer?.result).not.toBe("pass");
        if (shorter?.result === "fail") expect(longer?.result).toBe("fail");
      }),
      { numRuns: 1000 },
    );
  });

  it("is at least as strict with a guard band as without", () => {
    fc.assert(
      fc.property(
        time,
        requirement,
        fc.double({ min: 0, max: 100, noNaN: true }),
        r,
        (y, required, expanded, width) => {
          const guarded = verdictOrNull(trippedAt(y, expanded), required, { kind: "guard", r: width });
          if (guarded?.result !== "pass") return;
          expect(verdictOrNull(trippedAt(y, expanded), required, { kind: "simple" })?.result).toBe("pass");
        },
      ),
      { numRuns: 1000 },
    );
  });

  it("decides an interval as it decides each time in it", () => {
    fc.assert(
      fc.property(
        time,
        time,
        fc.double({ min: 0, max: 1, noNaN: true }),
        uncertainty,
        requirement,
        rule,
        (a, b, part, expanded, required, decisionRule) => {
          const lower = Math.min(a, b);
          const upper = Math.max(a, b);
          const whole = verdictOrNull(trippedWithin(lower, upper, expanded), required, decisionRule);
          if (whole === null || whole.result === "undetermined") return;
          const inside = Math.min(upper, Math.max(lower, lower + part * (upper - lower)));
          const one = verdictOrNull(trippedAt(inside, expanded), required, decisionRule);
          expect(one?.result).toBe(whole.result);
          expect(one?.statement).toBe(whole.statement);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it("never reads a number that is none as within a limit", () => {
    const none = fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -1);
    const spoil = fc.constantFrom("seconds", "heldSeconds", "expanded", "standard", "lower", "upper");
    fc.assert(
      fc.property(none, spoil, requirement, rule, (value, field, required, decisionRule) => {
        const input =
          field === "lower" || field === "upper"
            ? { ...trippedWithin(1, 2, 1), interval: { lower: 1, upper: 2, [field]: value } }
            : { ...trippedAt(1, 1), [field]: value };
        expect(() => judge(input, required, decisionRule, byHand)).toThrow(RangeError);
      }),
    );
  });

  it("never reads a limit that is no number as kept", () => {
    for (const maxSeconds of [Number.NaN, Number.POSITIVE_INFINITY, 0, -5]) {
      expect(() =>
        judge(trippedAt(1), { kind: "trip-within", maxSeconds }, { kind: "simple" }, byHand),
      ).toThrow(RangeError);
      expect(() =>
        judge(heldFor(1), { kind: "hold-for", seconds: maxSeconds }, { kind: "simple" }, byHand),
      ).toThrow(RangeError);
    }
  });

  it("excludes a shot that cannot be used, whatever it shows", () => {
    fc.assert(
      fc.property(shot, requirement, rule, (input, required, decisionRule) => {
        const verdict = verdictOrNull({ ...input, excluded: ["A reason."] }, required, decisionRule);
        expect(verdict?.result).toBe("excluded");
      }),
    );
  });
});
