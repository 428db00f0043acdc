import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { overallResult } from "../../../src/core/limits/overall-result.ts";

const result = fc.constantFrom("pass", "fail", "undetermined", "excluded", null);

describe("overallResult()", () => {
  it.each([
    [["fail", "pass"], "fail"],
    [["pass", "undetermined", null], "pass"],
    [["excluded", "undetermined"], "undetermined"],
    [["excluded"], "excluded"],
    [[null], null],
    [[], null],
  ] as const)("of %j is %s", (results, wanted) => expect(overallResult(results)).toBe(wanted));

  it("is no pass after any failure, in whatever order and however often the test is repeated", () => {
    fc.assert(
      fc.property(fc.array(result), fc.array(result), (before, after) => {
        expect(overallResult([...before, "fail", ...after])).toBe("fail");
        expect(overallResult([...before, ...after])).toBe(overallResult([...after, ...before]));
      }),
    );
  });
});
