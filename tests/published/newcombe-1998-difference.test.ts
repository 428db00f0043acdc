import { describe, it } from "vitest";
import { miettinenNurminen } from "../../src/core/stats/miettinen-nurminen.ts";
import { newcombeDifference } from "../../src/core/stats/newcombe-difference.ts";
import { expectPrinted } from "./printed.ts";

// Newcombe R G (1998) Stat Med 17:873-890, Table II, 95 % limits for a difference; method 6 is Miettinen and Nurminen's, method
// 10 the hybrid score one

describe("Newcombe 1998, Table II, as printed (seen where public test suites quote it)", () => {
  it.each([
    ["a", 56, 70, 48, 80, miettinenNurminen, "0.0528", "0.3382"],
    ["a", 56, 70, 48, 80, newcombeDifference, "0.0524", "0.3339"],
    ["b", 9, 10, 3, 10, miettinenNurminen, "0.1700", "0.8406"],
    ["b", 9, 10, 3, 10, newcombeDifference, "0.1705", "0.8090"],
    ["c", 6, 7, 2, 7, newcombeDifference, "0.0582", "0.8062"],
    ["d", 5, 56, 0, 29, miettinenNurminen, "-0.0326", "0.1933"],
    ["d", 5, 56, 0, 29, newcombeDifference, "-0.0381", "0.1926"],
    ["e", 0, 10, 0, 20, newcombeDifference, "-0.1611", "0.2775"],
    ["f", 0, 10, 0, 10, newcombeDifference, "-0.2775", "0.2775"],
    ["g", 10, 10, 0, 20, miettinenNurminen, "0.7156", "1.0000"],
    ["g", 10, 10, 0, 20, newcombeDifference, "0.6791", "1.0000"],
  ])("(%s) %d of %d less %d of %d", (_row, x1, n1, x2, n2, method, lower, upper) => {
    const interval = method({ x1, n1, x2, n2 }, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });
});

describe("Newcombe 1998, Table II, values from memory", () => {
  it.each([
    ["c", 6, 7, 2, 7, miettinenNurminen, "0.0342", "0.8534"],
    ["e", 0, 10, 0, 20, miettinenNurminen, "-0.1658", "0.2844"],
    ["f", 0, 10, 0, 10, miettinenNurminen, "-0.2879", "0.2879"],
    ["h", 10, 10, 0, 10, miettinenNurminen, "0.6636", "1.0000"],
    ["h", 10, 10, 0, 10, newcombeDifference, "0.6075", "1.0000"],
  ])("(%s) %d of %d less %d of %d", (_row, x1, n1, x2, n2, method, lower, upper) => {
    const interval = method({ x1, n1, x2, n2 }, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });
});
