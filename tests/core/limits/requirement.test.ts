import { describe, expect, it } from "vitest";
import { requirementFrom } from "../../../src/core/limits/requirement-from.ts";
import { requirementWords } from "../../../src/core/limits/requirement-words.ts";

describe("requirementWords", () => {
  it.each([
    [{ kind: "trip-within", maxSeconds: 120 }, "trip within 120 s"],
    [{ kind: "trip-within", maxSeconds: 7200 }, "trip within 7200 s (2 h)"],
    [{ kind: "trip-between", minSeconds: 0.1, maxSeconds: 45 }, "trip between 0.1 s and 45 s"],
    [{ kind: "hold-for", seconds: 3600 }, "hold for 3600 s (60 min)"],
  ] as const)("%o", (requirement, words) => {
    expect(requirementWords(requirement)).toBe(words);
  });
});

describe("requirementFrom", () => {
  it("reads entered limits as the requirement that they mean", () => {
    expect(requirementFrom({ require: "trip", limitSeconds: 50 })).toEqual({
      kind: "trip-within",
      maxSeconds: 50,
    });
    expect(requirementFrom({ require: "trip", limitSeconds: 50, lowerSeconds: 20 })).toEqual({
      kind: "trip-between",
      minSeconds: 20,
      maxSeconds: 50,
    });
    expect(requirementFrom({ require: "hold", limitSeconds: 3600 })).toEqual({
      kind: "hold-for",
      seconds: 3600,
    });
  });

  it.each([
    [{ require: "trip" }, /needs a limit in seconds/],
    [{ require: "trip", limitSeconds: 0 }, /positive number of seconds but is 0/],
    [{ require: "hold", limitSeconds: Number.NaN }, /positive/],
    [{ require: "hold", limitSeconds: 10, lowerSeconds: 5 }, /one time only; found a lower limit of 5 s/],
    [{ require: "trip", limitSeconds: 10, lowerSeconds: 10 }, /below the limit of 10 s but is 10/],
    [{ require: "trip", limitSeconds: 10, lowerSeconds: Number.NaN }, /lower limit/],
  ] as const)("throws on %o", (entered, words) => {
    expect(() => requirementFrom(entered)).toThrow(words);
  });
});
