import { describe, expect, it } from "vitest";
import { judge } from "../../../src/core/limits/judge.ts";
import type { JudgedTime } from "../../../src/core/limits/judged-time.ts";
import type { Requirement } from "../../../src/core/limits/limit-set.ts";
import type { DecisionRule } from "../../../src/core/limits/verdict.ts";
import { byHand, heldFor, trippedAt, trippedWithin, verdictOf } from "./judge-cases.ts";

const within50: Requirement = { kind: "trip-within", maxSeconds: 50 };
const between: Requirement = { kind: "trip-between", minSeconds: 20, maxSeconds: 50 };
const hold: Requirement = { kind: "hold-for", seconds: 3600 };
const simple: DecisionRule = { kind: "simple" };
const guard: DecisionRule = { kind: "guard", r: 1 };
const nonbinary: DecisionRule = { kind: "nonbinary", r: 1 };

/**
 * TU = 50 s, U = 2 s (k = 2), w = U. Zones as ILAC-G8:09/2019 names them, 4.2.1 to 4.2.3, edges by our own rule; probabilities by
 * JCGM 106:2012 clause 7.
 */
describe("one upper limit", () => {
  it.each([
    [47.0, "Pass", "pass", "pass", 0.99865],
    [48.0, "Pass", "pass", "pass", 0.97725],
    [48.1, "Conditional Pass", "pass", "fail", 0.971283],
    [49.5, "Conditional Pass", "pass", "fail", 0.691462],
    [50.0, "Conditional Pass", "pass", "fail", 0.5],
    [50.5, "Conditional Fail", "fail", "fail", 0.308538],
    [51.9, "Conditional Fail", "fail", "fail", 0.028717],
    [52.0, "Conditional Fail", "fail", "fail", 0.02275],
    [53.0, "Fail", "fail", "fail", 0.00135],
  ])("%s s is %s; binary %s without and %s with a guard band", (y, statement, without, withBand, p) => {
    const shot = trippedAt(y, 2);
    expect(verdictOf(shot, within50, nonbinary).statement).toBe(statement);
    expect(verdictOf(shot, within50, simple).result).toBe(without);
    expect(verdictOf(shot, within50, guard).result).toBe(withBand);
    for (const rule of [simple, guard, nonbinary])
      expect(verdictOf(shot, within50, rule).probability).toBeCloseTo(p, 6);
    expect(verdictOf(shot, within50, simple).statement).toBeNull();
  });

  // Trip at three times rating, current uncertainty 0.60 %: u = 0.307096 s, U = 0.614193 s.
  it.each([
    [49.3, "Pass", 0.98868],
    [49.5, "Conditional Pass", 0.94825],
    [50.2, "Conditional Fail", 0.25744],
    [50.7, "Fail", 0.01132],
  ])("%s s with U = 0.614193 s is %s", (y, statement, p) => {
    const verdict = verdictOf(trippedAt(y, 0.614193), within50, nonbinary);
    expect(verdict.statement).toBe(statement);
    expect(verdict.probability).toBeCloseTo(p, 4);
  });

  it("tells a late trip from one that is only too near the limit", () => {
    expect(verdictOf(trippedAt(49.5, 2), within50, guard).finding).toBe("inside the guard band");
    expect(verdictOf(trippedAt(50.5, 2), within50, guard).finding).toBe("late trip");
    expect(verdictOf(trippedAt(47, 2), within50, guard).finding).toBe("tripped in time");
  });

  it("gives the limit that decided", () => {
    expect(verdictOf(trippedAt(47), within50, simple).limitSeconds).toBe(50);
    expect(verdictOf(trippedAt(19), between, simple).limitSeconds).toBe(20);
    expect(verdictOf(trippedAt(51), between, simple).limitSeconds).toBe(50);
    expect(verdictOf(heldFor(10), hold, simple).limitSeconds).toBe(3600);
  });
});

describe("two limits", () => {
  // 20 s to 50 s, u = 1 s; JCGM 106:2012 clause 7.
  it.each([
    [19, "too fast", 0.158655],
    [21, "tripped in time", 0.841345],
    [49, "tripped in time", 0.841345],
    [51, "late trip", 0.158655],
  ])("%s s: %s", (y, finding, p) => {
    const verdict = verdictOf(trippedAt(y, 2), between, simple);
    expect(verdict.finding).toBe(finding);
    expect(verdict.probability).toBeCloseTo(p, 6);
  });

  it("mirrors the edge rule at the lower limit", () => {
    const statements = [17.9, 18, 19.9, 20, 21.9, 22, 35].map(
      (y) => verdictOf(trippedAt(y, 2), between, nonbinary).statement,
    );
    expect(statements).toEqual([
      "Fail",
      "Conditional Fail",
      "Conditional Fail",
      "Conditional Pass",
      "Conditional Pass",
      "Pass",
      "Pass",
    ]);
  });

  it("refuses to judge where the guard bands leave nothing, and says how wide they may be", () => {
    const refused = judge(trippedAt(35, 15.1), between, guard, byHand);
    expect(refused).toMatchObject({ ok: false, code: "no-acceptance-interval" });
    expect(refused.ok ? "" : refused.detail).toMatch(/15\.1 s.*20 s and 50 s.*up to 15 s/);
    expect(judge(trippedAt(35, 15), between, guard, byHand).ok).toBe(true);
    expect(judge(trippedAt(35, 30), between, { kind: "guard", r: 0.5 }, byHand).ok).toBe(true);
  });

  it("refuses a guard band wider than a single upper limit: no time is negative", () => {
    const e: Requirement = { kind: "trip-within", maxSeconds: 0.1 };
    expect(judge(trippedAt(0.02, 0.11), e, nonbinary, byHand)).toMatchObject({
      code: "no-acceptance-interval",
    });
    expect(judge(trippedAt(0.02, 0.11), e, simple, byHand).ok).toBe(true);
  });
});

describe("no trip", () => {
  it.each(["held", "interrupted"] as const)(
    "%s: a fail only from the limit plus the guard band on",
    (outcome) => {
      expect(verdictOf(heldFor(60, 2, outcome), within50, guard)).toMatchObject({
        result: "fail",
        finding: "no trip",
      });
      expect(verdictOf(heldFor(52, 2, outcome), within50, guard).result).toBe("fail");
      expect(verdictOf(heldFor(51, 2, outcome), within50, guard).result).toBe("undetermined");
      expect(verdictOf(heldFor(50, 2, outcome), within50, simple).result).toBe("fail");
      expect(verdictOf(heldFor(49.999, 2, outcome), within50, simple).result).toBe("undetermined");
      expect(verdictOf(heldFor(30, 2, outcome), within50, nonbinary)).toMatchObject({
        result: "undetermined",
        finding: "not decided",
        statement: null,
        probability: null,
      });
    },
  );

  it("says what is known where a non-binary rule cannot decide yet", () => {
    expect(verdictOf(heldFor(51, 2), within50, nonbinary).reasons[0]).toContain("Conditional Fail or worse");
    expect(verdictOf(heldFor(30, 2), within50, nonbinary).reasons[0]).not.toContain("Conditional Fail");
  });

  it("say how the shot ended and from when on it could have failed", () => {
    expect(verdictOf(heldFor(50, 2), within50, nonbinary).reasons[0]).toBe(
      "Ended after 50 s of current without a trip; not tripping counts as a fail only from 52 s on, the limit with its guard band, so that nothing is decided. What is known so far is Conditional Fail or worse.",
    );
    expect(verdictOf(heldFor(30, 2, "interrupted"), within50, simple).reasons[0]).toBe(
      "Interrupted after 30 s of current without a trip; not tripping counts as a fail only from 50 s on, so that nothing is decided.",
    );
    expect(verdictOf(heldFor(60, 2, "interrupted"), within50, simple).reasons[0]).toBe(
      "Still closed after 60 s of current when the shot was interrupted; the specimen must trip within 50 s.",
    );
  });

  it("states a fail of a non-binary rule as Fail", () => {
    expect(verdictOf(heldFor(60, 2), within50, nonbinary).statement).toBe("Fail");
  });
});

describe("hold", () => {
  it("passes at the required time, whatever ended the shot, and says so", () => {
    expect(verdictOf(heldFor(3600), hold, simple)).toMatchObject({
      result: "pass",
      finding: "held as required",
    });
    const interrupted = verdictOf(heldFor(3601, null, "interrupted"), hold, guard);
    expect(interrupted.result).toBe("pass");
    expect(interrupted.reasons[0]).toContain("only after the required time had passed");
  });

  it("is undetermined before that", () => {
    expect(verdictOf(heldFor(3599.9), hold, simple).result).toBe("undetermined");
    expect(verdictOf(heldFor(100, null, "interrupted"), hold, guard).result).toBe("undetermined");
  });

  it("fails on a trip before, as a nuisance trip", () => {
    expect(verdictOf(trippedAt(3000), hold, simple)).toMatchObject({
      result: "fail",
      finding: "nuisance trip",
    });
    expect(verdictOf(trippedAt(3600.5), hold, simple)).toMatchObject({
      result: "pass",
      finding: "held as required",
    });
    expect(verdictOf(trippedAt(3601, 10), hold, guard)).toMatchObject({
      result: "fail",
      finding: "inside the guard band",
    });
  });

  it("says where the document publishes no time", () => {
    const source = {
      document: "UL 489",
      edition: null,
      clause: null,
      standing: "our own choice" as const,
      doubtful: false,
      note: "n",
    };
    const words = verdictOf(heldFor(3600), { ...hold, until: "temperatures settle" }, simple, {
      source,
    }).reasons.join(" ");
    expect(words).toContain("our own working value, not a published one");
    expect(words).toContain("not by a time but when temperatures settle");
  });
});

describe("a time known only as an interval", () => {
  it("is judged only where all of it is decided alike", () => {
    expect(verdictOf(trippedWithin(40, 49), within50, simple)).toMatchObject({
      result: "pass",
      probability: null,
    });
    expect(verdictOf(trippedWithin(51, 60), within50, simple)).toMatchObject({
      result: "fail",
      finding: "late trip",
    });
    const split = verdictOf(trippedWithin(49, 51), within50, simple);
    expect(split).toMatchObject({ result: "undetermined", finding: "not decided" });
    expect(split.reasons[0]).toMatch(/between 49 s and 51 s.*does not decide alike/);
  });

  it("is not decided by fails on both sides of a pass", () => {
    expect(verdictOf(trippedWithin(10, 60), between, simple).result).toBe("undetermined");
    expect(verdictOf(trippedWithin(20.5, 49.5, 2), between, nonbinary).result).toBe("undetermined");
  });

  it("fails where every time in it fails, under the milder finding", () => {
    expect(verdictOf(trippedWithin(49, 51, 2), within50, guard)).toMatchObject({
      result: "fail",
      finding: "inside the guard band",
    });
  });

  it("needs one statement throughout under a non-binary rule", () => {
    expect(verdictOf(trippedWithin(47.5, 48.5, 2), within50, nonbinary).result).toBe("undetermined");
    expect(verdictOf(trippedWithin(48.5, 49.5, 2), within50, nonbinary).statement).toBe("Conditional Pass");
  });
});

describe("shots and rules that cannot be used", () => {
  it("excludes, whatever the shot shows", () => {
    const verdict = verdictOf({ ...trippedAt(10), excluded: ["The specimen was warm."] }, within50, simple);
    expect(verdict).toMatchObject({ result: "excluded", finding: "not decided", probability: null });
    expect(verdict.reasons[0]).toBe("The specimen was warm.");
  });

  it("is undetermined where the rule needs an uncertainty and there is none", () => {
    for (const shot of [trippedAt(10), heldFor(1000)]) {
      const verdict = verdictOf(shot, within50, guard);
      expect(verdict.result).toBe("undetermined");
      expect(verdict.reasons[0]).toContain("needs the expanded uncertainty");
      expect(verdict.reasons[0]).toContain(
        shot.outcome === "tripped" ? "Tripped after 10 s" : "No trip in 1000 s",
      );
    }
    expect(verdictOf(trippedAt(10), within50, { kind: "guard", r: 0 }).result).toBe("pass");
  });

  it("adds no second margin to a limit that already contains one", () => {
    const verdict = verdictOf(trippedAt(49.5, 2), within50, guard, { limitIncludesGuardBand: true });
    expect(verdict.result).toBe("pass");
    expect(verdict.reasons.join(" ")).toContain("already contains a margin");
  });

  it.each<[string, JudgedTime, Requirement, DecisionRule, RegExp]>([
    ["r below 0", trippedAt(1, 1), within50, { kind: "guard", r: -0.1 }, /r must be 0 or more but is -0\.1/],
    ["r not a number", trippedAt(1, 1), within50, { kind: "nonbinary", r: Number.NaN }, /r must be/],
    [
      "a time that is not a number",
      trippedAt(Number.NaN),
      within50,
      simple,
      /seconds must be 0 or more but is NaN/,
    ],
    ["a negative time", trippedAt(-1), within50, simple, /seconds/],
    ["U below 0", trippedAt(1, -1), within50, simple, /expanded uncertainty/],
    ["a trip without a time", { ...heldFor(1), outcome: "tripped" }, within50, simple, /found neither/],
    ["a time without a trip", { ...trippedAt(1), outcome: "held" }, within50, simple, /was held has no time/],
    ["an interval out of order", trippedWithin(2, 1), within50, simple, /in order/],
    ["a limit of 0", trippedAt(1), { kind: "trip-within", maxSeconds: 0 }, simple, /positive and in order/],
    [
      "limits out of order",
      trippedAt(1),
      { kind: "trip-between", minSeconds: 5, maxSeconds: 4 },
      simple,
      /in order/,
    ],
  ])("throws on %s", (_what, input, requirement, rule, words) => {
    expect(() => judge(input, requirement, rule, byHand)).toThrow(RangeError);
    expect(() => judge(input, requirement, rule, byHand)).toThrow(words);
  });
});

describe("reasons", () => {
  const source = {
    document: "UL 489",
    edition: "10th",
    clause: "7.1",
    standing: "from memory" as const,
    doubtful: true,
    note: "n",
  };

  it("give times with units, the rule, how well the limit is known and that the set is unconfirmed", () => {
    const { reasons } = verdictOf(trippedAt(51.25, 2), within50, nonbinary, { limitSet: "a-set", source });
    expect(reasons).toEqual([
      "Tripped after 51.25 s (U = 2 s), 1.25 s after the limit; the specimen must trip within 50 s.",
      "Decision rule: non-binary statement with a guard band of 1 U = 2 s.",
      "The limit is that of UL 489, 10th, 7.1: from memory, and doubtful even so.",
      "a-set is unconfirmed: this lab has not compared it with its own copy of the document.",
    ]);
    const confirmed = verdictOf(trippedAt(51, 2), within50, simple, { source, confirmed: true });
    expect(confirmed.reasons.join(" ")).not.toContain("unconfirmed");
    expect(confirmed.confirmed).toBe(true);
  });

  it("say that a limit entered by hand has no source", () => {
    expect(verdictOf(trippedAt(1), within50, simple).reasons.at(-1)).toContain("entered by hand");
  });

  // Maximum-time limit: a pass below nominal current and a fail above it err on the safe side; the other two do not.
  it.each([
    [
      40,
      within50,
      0.98,
      "below nominal, which lengthens the time: at nominal current this pass would hold all the more",
    ],
    [
      40,
      within50,
      1.02,
      "above nominal, which shortens the time: it leaned toward this pass, which might not hold",
    ],
    [
      60,
      within50,
      1.02,
      "above nominal, which shortens the time: at nominal current this fail would hold all the more",
    ],
    [
      60,
      within50,
      0.98,
      "below nominal, which lengthens the time: it leaned toward this fail, which might not hold",
    ],
    [10, between, 1.02, "it leaned toward this fail"],
    [10, between, 0.98, "this fail would hold all the more"],
    [40, between, 1.02, "leaned toward this pass against the upper limit"],
    [40, between, 0.98, "leaned toward this pass against the lower limit"],
    [100, hold, 1.02, "leaned toward this fail"],
    [4000, hold, 0.98, "leaned toward this pass"],
    [4000, hold, 1.02, "this pass would hold all the more"],
  ] as const)("say which way the current leaned: %s s, current %s", (y, requirement, currentRatio, words) => {
    expect(verdictOf(trippedAt(y), requirement, simple, { currentRatio }).reasons.join(" ")).toContain(words);
  });

  it("say nothing of a current on target, and nothing where nothing was decided", () => {
    const about = (shot: JudgedTime, currentRatio: number | null) =>
      verdictOf(shot, within50, simple, { currentRatio }).reasons.join(" ");
    expect(about(trippedAt(40), 1.0005)).not.toContain("nominal");
    expect(about(trippedAt(40), null)).not.toContain("nominal");
    expect(about(heldFor(10), 1.05)).not.toContain("nominal");
  });
});
