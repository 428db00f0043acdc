import { describe, expect, it } from "vitest";
import { sharesView } from "../../src/lab/equipment-shares.ts";
import { panelView, placeView } from "../../src/lab/place-risk.ts";
import { planKindOf, planTests } from "../../src/lab/plan-tests.ts";

describe("plans", () => {
  it("name the numbers of the tables that people know", () => {
    // 95 % confidence, 90 % reliability: 29 (success-run table, common practice); 59 passes: at most 5 %.
    expect(planTests("zero-failures", { confidence: "0.95", reliability: "0.9" }).answer.n).toBe(29);
    const shown = planTests("shown", { confidence: "0.95", tested: "59" }).answer.failureRateUpper ?? 1;
    expect(shown).toBeLessThanOrEqual(0.05);
    // 90/90 with two failures allowed: 52 (binomial demonstration tables, common practice).
    expect(planTests("some-failures", { confidence: "0.9", reliability: "0.9", allowed: "2" }).answer.n).toBe(
      52,
    );
    const lot = planTests("lot", { size: "40", bad: "40", confidence: "0.9" });
    expect(lot.answer.n).toBe(1);
  });

  it.each([
    ["zero-failures", { confidence: "1", reliability: "0.9" }, "confidence"],
    ["zero-failures", { confidence: "0.9" }, 'reliability: found "nothing"'],
    ["zero-failures", { confidence: "0.9", reliability: "x" }, "reliability"],
    ["zero-failures", { confidence: "0.9", reliability: "0.9", colour: "1" }, "colour"],
    ["some-failures", { confidence: "0.9", reliability: "0.9", allowed: "1.5" }, "allowed"],
    ["width", { confidence: "0.9", rate: "0", "half-width": "0.1" }, "rate"],
    ["lot", { confidence: "0.9", size: "10", bad: "11" }, "at most the lot size"],
    [
      "acceptance",
      { "good-rate": "0.1", "refuse-good": "0.1", "bad-rate": "0.1", "accept-bad": "0.1" },
      "below p2",
    ],
  ] as const)("%s refuses %o", (kind, given, words) => {
    expect(() => planTests(kind, given)).toThrow(words);
  });

  it("refuse a kind that is none, naming those there are", () => {
    expect(() => planKindOf("toString")).toThrow("zero-failures");
  });
});

describe("a place", () => {
  it("has the failures among those still in service between bounds that no data can leave", () => {
    for (const [N, tested, failed] of [
      [40, 12, 2],
      [5, 5, 3],
      [10, 1, 0],
      [10, 9, 9],
    ] as const) {
      const { remaining, inService } = placeView({
        N: String(N),
        tested: String(tested),
        failed: String(failed),
        confidence: undefined,
      });
      expect(remaining.lower).toBeGreaterThanOrEqual(0);
      expect(remaining.oneSidedUpper).toBeLessThanOrEqual(remaining.upper);
      expect(remaining.upper).toBeLessThanOrEqual(inService);
    }
  });

  it("is refused where counts cannot be", () => {
    const ask = (N: string, tested: string, failed: string) => () =>
      placeView({ N, tested, failed, confidence: undefined });
    expect(ask("4", "5", "0")).toThrow("tested");
    expect(ask("4", "3", "4")).toThrow("failed");
    expect(ask("4", "0", "0")).toThrow("tested");
    expect(ask("4", "1.5", "0")).toThrow("whole number");
  });
});

describe("a panel", () => {
  const tested = { onePoleTested: "100", onePoleFailed: "3", twoPoleTested: "30", twoPoleFailed: "2" };

  it("of one breaker fails as that breaker does: the Jeffreys mean", () => {
    const view = panelView({ onePole: "1", twoPole: "0", ...tested }, null);
    for (const belief of [view.atLeastOne, view.expectedFailures, view.randomCircuit])
      expect(belief.mean).toBeCloseTo(3.5 / 101, 10);
    expect(view.words.join(" ")).toContain("not the chance of a fire");
  });

  it("is the more likely to hold a failure the larger it is, and an overload no likelier to meet one", () => {
    const small = panelView({ onePole: "4", twoPole: "2", ...tested }, null);
    const large = panelView({ onePole: "8", twoPole: "4", ...tested }, null);
    expect(large.atLeastOne.mean).toBeGreaterThan(small.atLeastOne.mean);
    expect(large.randomCircuit.mean).toBeCloseTo(small.randomCircuit.mean, 10);
    expect(large.expectedFailures.mean).toBeCloseTo(2 * small.expectedFailures.mean, 10);
  });

  it("is refused empty, and where nothing of a kind was tested", () => {
    expect(() => panelView({ onePole: "0", twoPole: "0" }, null)).toThrow("empty");
    expect(() => panelView({ onePole: "1", twoPole: "0" }, null)).toThrow("nothing can be said");
    expect(() =>
      panelView({ onePole: "1", twoPole: "0", onePoleTested: "2", onePoleFailed: "3" }, null),
    ).toThrow("from 0 to 2");
  });
});

describe("shares of equipment", () => {
  const log = "place,year,kind\na,2001,x\na,2001,x\na,2001,y\nb,2001,none\na,2002,x\nc,2002,x\nd,2003,none\n";

  it("count a place once a year and once over all", () => {
    const [x] = sharesView(log, "log.csv", { kind: "x", confidence: 0.95 }).kinds;
    expect(x?.years.map(({ year, withKind, places }) => [year, withKind, places])).toEqual([
      [2001, 1, 2],
      [2002, 2, 2],
      [2003, 0, 1],
    ]);
    expect(x?.all).toMatchObject({ withKind: 2, places: 4, share: 0.5 });
    expect(sharesView(log, "log.csv", { confidence: 0.95 }).notes.join()).toContain("counted once: 1");
  });

  it.each([
    ["place,year,kind\na,soon,x", "line 2, year"],
    ["place,year,kind\n,2001,x", "line 2, place"],
    ["place,year,kind\na,2001,", "line 2, kind"],
    ["place,kind\na,x", "place, year, kind"],
    ["place,year,kind\n", "no inspected place"],
  ])("refuse %j, naming line and column", (text, words) => {
    expect(() => sharesView(text, "log.csv", { confidence: 0.95 })).toThrow(words);
    expect(() => sharesView(log, "log.csv", { kind: "z", confidence: 0.95 })).toThrow("none, x, y");
  });
});
