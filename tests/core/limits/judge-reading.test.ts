import { describe, expect, it } from "vitest";
import { findTestPoint } from "../../../src/core/limits/applicable-rows.ts";
import { judgeReading } from "../../../src/core/limits/judge-reading.ts";
import type { TestPoint } from "../../../src/core/limits/limit-set.ts";
import type { DecisionRule } from "../../../src/core/limits/verdict.ts";
import { excludingFlags, readingFlags } from "../../../src/core/signal/flags.ts";
import type { Reading } from "../../../src/core/signal/reading.ts";
import { shippedSet } from "../../curves/shipped-sets.ts";

function pointAt(multiple: number): TestPoint {
  const found = findTestPoint(
    shippedSet("ul-489-calibration"),
    { label: "invented", ratedAmps: 20, poles: 1, volts: 120 },
    multiple,
  );
  if (!found.ok) throw new Error(found.detail);
  return found.point;
}

/** A trip at 200 % of 20 A, where 120 s are the limit. */
const reading = (more: Partial<Reading> = {}): Reading => ({
  outcome: "tripped",
  seconds: 100,
  interval: { lower: 99.99, upper: 100.01 },
  heldSeconds: 100,
  effectiveAmps: 40,
  lowestAmps: 39.9,
  highestAmps: 40.1,
  multiple: 2,
  targetAmps: 40,
  uncertainty: {
    standard: 1,
    expanded: 2,
    k: 2,
    effectiveDegreesOfFreedom: null,
    budget: [],
    model: "invented",
  },
  flags: [],
  samples: 6000,
  ...more,
});
const untripped = (heldSeconds: number, outcome: "held" | "interrupted" = "held") =>
  reading({ outcome, seconds: null, interval: null, uncertainty: null, heldSeconds });

const simple: DecisionRule = { kind: "simple" };
const options = { confirmed: false };

describe("judgeReading", () => {
  it("names set, row, limit and rule, and says that the set is unconfirmed", () => {
    const verdict = judgeReading(reading(), pointAt(2), simple, options);
    expect(verdict).toMatchObject({
      result: "pass",
      finding: "tripped in time",
      limitSeconds: 120,
      limitSet: "ul-489-calibration",
      row: "200-to-30",
      rule: simple,
      confirmed: false,
    });
    expect(verdict.reasons.join(" ")).toMatch(/seen second-hand.*unconfirmed/);
  });

  it.each(readingFlags)("excludes by %s exactly where the flag says so", (flag) => {
    const verdict = judgeReading(reading({ flags: [flag] }), pointAt(2), simple, options);
    const excludes = excludingFlags([flag]).length > 0;
    expect(verdict.result).toBe(excludes ? "excluded" : "pass");
    if (excludes) expect(verdict.reasons[0]).toMatch(/^Excluded: /);
    else expect(verdict.reasons.length).toBeGreaterThan(3);
  });

  it("judges an opening inside a gap as the interval in which it lies", () => {
    const interval = { lower: 110, upper: 130 };
    const inGap = reading({ seconds: 115, interval, flags: ["gap"] });
    expect(judgeReading(inGap, pointAt(2), simple, options).result).toBe("undetermined");
    expect(judgeReading({ ...inGap, flags: [] }, pointAt(2), simple, options).result).toBe("pass");
  });

  it("says which way the current leaned", () => {
    const high = judgeReading(reading({ effectiveAmps: 41 }), pointAt(2), simple, options);
    expect(high.reasons.join(" ")).toContain("2.5 % above nominal");
  });

  it("takes the guard band of a shot without a trip from what a trip at the limit would have had", () => {
    const guard: DecisionRule = { kind: "guard", r: 1 };
    const judged = (held: number, expandedAtLimit?: number) =>
      judgeReading(untripped(held), pointAt(2), guard, {
        confirmed: false,
        ...(expandedAtLimit === undefined ? {} : { expandedAtLimit }),
      }).result;
    expect(judged(123, 3)).toBe("fail");
    expect(judged(122, 3)).toBe("undetermined");
    expect(judged(1000)).toBe("undetermined");
  });

  it("closes a shot whose guard band leaves nothing to accept as undetermined, and says why", () => {
    const wide = reading({
      uncertainty: {
        standard: 100,
        expanded: 200,
        k: 2,
        effectiveDegreesOfFreedom: null,
        budget: [],
        model: "invented",
      },
    });
    const verdict = judgeReading(wide, pointAt(2), { kind: "nonbinary", r: 1 }, options);
    expect(verdict.result).toBe("undetermined");
    expect(verdict.reasons[0]).toMatch(/^No verdict: cannot judge:.*leaves no time that could pass/);
  });

  it("holds an interrupted shot against the limit that it reached, or did not", () => {
    expect(judgeReading(untripped(119, "interrupted"), pointAt(2), simple, options).result).toBe(
      "undetermined",
    );
    expect(judgeReading(untripped(121, "interrupted"), pointAt(2), simple, options).result).toBe("fail");
    expect(judgeReading(untripped(3600, "interrupted"), pointAt(1), simple, options).result).toBe("pass");
  });

  it("gives the same bytes for the same reading", () => {
    const once = JSON.stringify(judgeReading(reading(), pointAt(2), simple, options));
    expect(JSON.stringify(judgeReading(reading(), pointAt(2), simple, options))).toBe(once);
  });
});
