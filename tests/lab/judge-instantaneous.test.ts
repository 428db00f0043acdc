import { describe, expect, it } from "vitest";
import {
  defaultInstantaneousSet,
  type HandInstantaneous,
  judgeInstantaneousByHand,
} from "../../src/lab/judge-instantaneous-by-hand.ts";
import { loadLimitLibrary } from "../../src/lab/limit-library.ts";

const library = loadLimitLibrary();
const judge = (input: Partial<HandInstantaneous>) =>
  judgeInstantaneousByHand(library, {
    ...{ set: defaultInstantaneousSet, row: "adjustable", k: 2, rule: { kind: "simple" } },
    ...input,
  });

describe("judgeInstantaneousByHand", () => {
  // NETA Table 100.8 worked by hand: a setting of 4000 A, -30 % / +40 %, is 2800 A to 5600 A; 2775 A fails.
  it.each([
    [2775, "fail", "trips too low"],
    [2800, "pass", "within the window"],
    [5600, "pass", "within the window"],
    [5601, "fail", "trips too high"],
  ])("at a setting of 4000 A, a trip at %d A is a %s: %s", (trippedAt, result, finding) => {
    const verdict = judge({ settingAmps: 4000, trippedAt });
    expect(verdict).toMatchObject({ result, finding, window: { lowestAmps: 2800, highestAmps: 5600 } });
  });

  it("takes the tolerance of a non-adjustable trip from the edges of the band", () => {
    const band = { row: "non-adjustable", lowEdgeAmps: 1000, highEdgeAmps: 2000 };
    expect(judge({ ...band, trippedAt: 750 })).toMatchObject({
      window: { lowestAmps: 750, highestAmps: 2500 },
    });
    expect(() => judge({ row: "non-adjustable", settingAmps: 4000, trippedAt: 1 })).toThrow(
      "edge of the published band",
    );
  });

  it("does not count no trip as a fail before the upper end", () => {
    expect(judge({ settingAmps: 4000, raisedTo: 5000 }).result).toBe("undetermined");
    expect(judge({ settingAmps: 4000, raisedTo: 5600 }).result).toBe("fail");
  });

  it("refuses what does not say one thing", () => {
    expect(() => judge({ settingAmps: 4000 })).toThrow("exactly one of --tripped-at and --raised-to");
    expect(() => judge({ trippedAt: 4000 })).toThrow("give --setting");
    expect(() => judge({ row: "digital", settingAmps: 4000, trippedAt: 1 })).toThrow("there are: adjustable");
    expect(() => judge({ settingAmps: 4000, trippedAt: 1, rule: { kind: "guard", r: 1 } })).toThrow("--u A");
  });
});
