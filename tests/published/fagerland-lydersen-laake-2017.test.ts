import { describe, expect, it } from "vitest";
import { clopperPearson } from "../../src/core/stats/clopper-pearson.ts";
import { fisherExact } from "../../src/core/stats/fisher-exact.ts";
import { jeffreys } from "../../src/core/stats/jeffreys.ts";
import { katzRelativeRisk } from "../../src/core/stats/katz-relative-risk.ts";
import { koopmanRelativeRisk } from "../../src/core/stats/koopman-relative-risk.ts";
import { midP } from "../../src/core/stats/mid-p.ts";
import { miettinenNurminen } from "../../src/core/stats/miettinen-nurminen.ts";
import { newcombeDifference } from "../../src/core/stats/newcombe-difference.ts";
import { wilson } from "../../src/core/stats/wilson.ts";
import { wilsonCorrected } from "../../src/core/stats/wilson-corrected.ts";
import { expectPrinted } from "./printed.ts";

// Fagerland M W, Lydersen S, Laake P (2017) Statistical Analysis of Contingency Tables, and the same authors (2015) Stat Methods
// Med Res 24:224-254; values as in the test suite of the book's companion package

describe("13 of 16 (Ligarden 2010), 95 %, as printed", () => {
  it.each([
    ["exact", clopperPearson, "0.5435", "0.9595"],
    ["Wilson", wilson, "0.5699", "0.9341"],
    ["Jeffreys", jeffreys, "0.5792", "0.9442"],
    ["Wilson with continuity correction", wilsonCorrected, "0.5369", "0.9503"],
    ["mid-P", midP, "0.5699", "0.9500"],
  ])("%s", (_name, method, lower, upper) => {
    const interval = method(13, 16, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });
});

describe("7 of 34 against 1 of 34 (Perondi 2004), 95 %, as printed", () => {
  const groups = { x1: 7, n1: 34, x2: 1, n2: 34 };

  it.each([
    ["Newcombe difference", newcombeDifference, "0.0189", "0.3404"],
    ["Katz ratio", katzRelativeRisk, "0.9096", "53.8695"],
    ["Koopman ratio", koopmanRelativeRisk, "1.2209", "42.5757"],
  ])("%s", (_name, method, lower, upper) => {
    const interval = method(groups, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });
});

describe("0 of 16 against 15 of 72 (Ritland 2007), as printed", () => {
  const groups = { x1: 0, n1: 16, x2: 15, n2: 72 };

  it("Miettinen-Nurminen difference", () => {
    const { lower, upper } = miettinenNurminen(groups, 0.95);
    expectPrinted(lower, "-0.3164");
    expectPrinted(upper, "-0.0056");
  });

  it("Fisher's exact test and its mid-P", () => {
    const { twoSided, midPTwoSided } = fisherExact(groups);
    expectPrinted(twoSided, "0.06287");
    expectPrinted(midPTwoSided, "0.04466");
    expect(twoSided).toBeGreaterThan(0.05);
  });
});
