import { describe, expect, it } from "vitest";
import { excludingFlags, flagMeanings, orderedFlags, readingFlags } from "../../../src/core/signal/flags.ts";

describe("flags", () => {
  it("each say what they mean and why they exclude or do not", () => {
    for (const flag of readingFlags) {
      expect(flagMeanings[flag].words).toMatch(/^[A-Z].*\.$/);
      expect(flagMeanings[flag].why).toMatch(/^[A-Z].*\.$/);
    }
  });

  it("that exclude are those under which the time or the test is not what was asked for", () => {
    expect(excludingFlags(readingFlags)).toEqual([
      "no-onset",
      "never-reached-target",
      "regulation-gross",
      "clock-step",
      "not-cold",
    ]);
    expect(excludingFlags(["gap", "ambient-unknown", "rig-disagrees"])).toEqual([]);
  });

  it("are listed once each, in one order", () => {
    expect(orderedFlags(["gap", "no-onset", "gap"])).toEqual(["no-onset", "gap"]);
  });
});
