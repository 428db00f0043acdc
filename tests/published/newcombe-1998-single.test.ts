import { describe, it } from "vitest";
import { clopperPearson } from "../../src/core/stats/clopper-pearson.ts";
import { midP } from "../../src/core/stats/mid-p.ts";
import { wilson } from "../../src/core/stats/wilson.ts";
import { wilsonCorrected } from "../../src/core/stats/wilson-corrected.ts";
import { expectPrinted } from "./printed.ts";

// Newcombe R G (1998) Stat Med 17:857-872, Table I, 95 % limits for a single proportion

describe("Newcombe 1998, Table I, as printed (seen where public test suites quote it)", () => {
  it.each([
    [81, 263, wilson, "0.2553", "0.3662"],
    [15, 148, wilson, "0.0624", "0.1605"],
    [15, 148, wilsonCorrected, "0.0598", "0.1644"],
    [15, 148, clopperPearson, "0.0578", "0.1617"],
    [15, 148, midP, "0.0601", "0.1581"],
    [0, 20, wilson, "0.0000", "0.1611"],
    [0, 20, wilsonCorrected, "0.0000", "0.2005"],
    [0, 20, clopperPearson, "0.0000", "0.1684"],
    [0, 20, midP, "0.0000", "0.1391"],
    [1, 29, wilson, "0.0061", "0.1718"],
    [1, 29, wilsonCorrected, "0.0018", "0.1963"],
    [1, 29, clopperPearson, "0.0009", "0.1776"],
    [1, 29, midP, "0.0017", "0.1585"],
  ])("%d of %d by %o", (k, n, method, lower, upper) => {
    const interval = method(k, n, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });
});

describe("Newcombe 1998, Table I, values from memory", () => {
  it.each([
    [81, 263, wilsonCorrected, "0.2535", "0.3682"],
    [81, 263, clopperPearson, "0.2527", "0.3676"],
    [81, 263, midP, "0.2544", "0.3658"],
  ])("%d of %d by %o", (k, n, method, lower, upper) => {
    const interval = method(k, n, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });
});
