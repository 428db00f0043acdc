import { describe, expect, it } from "vitest";
import type { Band } from "../../../src/core/limits/band.ts";
import { judgeReadingByBand } from "../../../src/core/limits/judge-reading-by-band.ts";
import { excludingFlags, readingFlags } from "../../../src/core/signal/flags.ts";
import type { Reading } from "../../../src/core/signal/reading.ts";

const band: Band = {
  id: "invented-band",
  title: "invented",
  current: "multiple",
  minimum: [
    [1.9, 40],
    [2.1, 20],
  ],
  maximum: [
    [1.9, 200],
    [2.1, 100],
  ],
  source: {
    document: "invented for tests",
    edition: null,
    clause: null,
    standing: "our own choice",
    doubtful: false,
    note: "",
  },
};
const reading = (more: Partial<Reading> = {}): Reading => ({
  outcome: "tripped",
  seconds: 90,
  interval: { lower: 89.99, upper: 90.01 },
  heldSeconds: 90,
  effectiveAmps: 40,
  lowestAmps: 39.9,
  highestAmps: 40.1,
  multiple: 2,
  targetAmps: 40,
  uncertainty: null,
  flags: [],
  samples: 5400,
  ...more,
});
const judged = (more: Partial<Reading> = {}, expandedAtLimit: number | null = null) =>
  judgeReadingByBand(
    reading(more),
    band,
    { ratedAmps: 20, targetAmps: 40 },
    expandedAtLimit === null ? { kind: "simple" } : { kind: "guard", r: 1 },
    { confirmed: false, expandedAtLimit },
  );

describe("judgeReadingByBand", () => {
  it("takes the edges at the current as measured, not at the target", () => {
    // At 2.1 times rating the maximum is the point (2.1, 100), at 1.9 it is (1.9, 200).
    const time = { seconds: 150, heldSeconds: 150, interval: { lower: 150, upper: 150 } };
    expect(judged({ ...time, effectiveAmps: 42 })).toMatchObject({ result: "fail", limitSeconds: 100 });
    expect(judged({ ...time, effectiveAmps: 38 })).toMatchObject({ result: "pass", limitSeconds: 200 });
  });

  it("decides nothing where the band has no edges at the current, or none flowed", () => {
    const beyond = judged({ effectiveAmps: 43 });
    expect(beyond).toMatchObject({ result: "undetermined", limitSet: "invented-band", row: null });
    expect(beyond.reasons[0]).toContain("it covers 1.9 to 2.1 times rating");
    const nothing = judged({
      outcome: "interrupted",
      seconds: null,
      interval: null,
      effectiveAmps: 0,
      heldSeconds: 0,
    });
    expect(nothing).toMatchObject({ result: "undetermined" });
  });

  it("excludes by every flag that excludes, also where the current was out of the band, and remarks on the others", () => {
    const excluding = excludingFlags(readingFlags);
    for (const flag of readingFlags) {
      const { result, reasons } = judged({
        flags: [flag],
        effectiveAmps: excluding.includes(flag) ? 60 : 40,
      });
      if (excluding.includes(flag)) expect(result).toBe("excluded");
      else {
        expect(result).toBe("pass");
        expect(reasons.length).toBe(judged().reasons.length + 1);
      }
    }
  });

  it("gives a no-trip the guard band that a trip at the limit would have had", () => {
    const held = (heldSeconds: number) =>
      judged({ outcome: "held", seconds: null, interval: null, effectiveAmps: 42, heldSeconds }, 10).result;
    expect([held(109.9), held(110)]).toEqual(["undetermined", "fail"]);
  });
});
