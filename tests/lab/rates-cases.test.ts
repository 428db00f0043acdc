import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { RatesQuery } from "../../src/contract/rates.ts";
import { ratesView } from "../../src/lab/rates.ts";
import { rateCases } from "../../src/lab/rates-cases.ts";
import { readRateQuestion } from "../../src/lab/rates-question.ts";
import { marginsView, tripTimesView } from "../../src/lab/trip-times.ts";
import type { Store } from "../../src/store/open-store.ts";
import { openLab, receiveSpecimen, shootAt, specimenWith } from "./rates-lab.ts";

let store: Store;
beforeEach(() => {
  store = openLab();
  specimenWith(store, "A", ["pass", "never"], { makeCode: "a" });
  specimenWith(store, "B", ["never"], { makeCode: "a" });
  specimenWith(store, "C", ["late", "pass"], { makeCode: "b" });
  specimenWith(store, "D", ["undetermined", "pass"], { makeCode: "b" });
  specimenWith(store, "E", ["excluded"], { makeCode: "b" });
  receiveSpecimen(store, "F");
  shootAt(store, receiveSpecimen(store, "G"), 1, "held");
  specimenWith(store, "H", ["never"], { demo: true });
});
afterEach(() => store.close());

const question = (query: RatesQuery) => readRateQuestion(query);

describe("who is in and who is out", () => {
  it("is told for every specimen, with why", () => {
    const cases = rateCases({ store }, question({}), 100);
    expect(cases.map(({ label, counted }) => [label, counted])).toEqual([
      ["A", "passed"],
      ["B", "failed"],
      ["C", "failed"],
      ["D", "undetermined"],
      ["E", "excluded"],
      ["F", "not counted"],
      ["G", "not counted"],
      ["H", "not counted"],
    ]);
    expect(cases.slice(5).map(({ why }) => why)).toEqual([
      "no closed shot",
      "its first shot was another: 100 %, pole 1 alone, a hold test",
      "invented",
    ]);
  });

  it("adds up to the counts of the rate, whatever the question", () => {
    for (const query of [
      {},
      { state: "any" },
      { state: "any", take: "first" },
      { state: "exercised", by: "makeCode" },
      { failure: "nuisance-trip" },
      { only: "makeCode=b" },
    ]) {
      const { total } = ratesView({ store }, question(query));
      const counted = rateCases({ store }, question(query), 100).map((one) => one.counted);
      const times = (word: string) => counted.filter((one) => one === word).length;
      expect([times("failed"), times("passed"), times("undetermined"), times("excluded")]).toEqual([
        total.k,
        total.n - total.k,
        total.undetermined,
        total.excluded,
      ]);
    }
  });
});

describe("times to trip", () => {
  it("hold a shot that ended without a trip as censored, and leave out what could not be used", () => {
    const view = tripTimesView({ store }, question({ by: "makeCode" }));
    expect(view.groups.map(({ label, specimens, tripped }) => [label, specimens, tripped])).toEqual([
      ["a", 2, 1],
      ["b", 2, 1],
    ]);
    expect(view.figure.curves[0]).toMatchObject({ time: [40], survival: [0.5], censored: [126] });
    expect(view.figure.curves[0]?.atRisk[0]).toEqual({ time: 0, n: 2 });
    expect(view.logRank?.p).toBeGreaterThan(0);
    expect(JSON.stringify(view)).not.toContain("NaN");
  });

  it("say that the median is not estimable where every time is censored", () => {
    const view = tripTimesView({ store }, question({ only: "makeCode=none" }));
    expect(view.groups).toEqual([]);
    store.close();
    store = openLab();
    specimenWith(store, "A", ["never"]);
    specimenWith(store, "B", ["undetermined"]);
    const [group] = tripTimesView({ store }, question({})).groups;
    expect(group).toMatchObject({ tripped: 0, medianSeconds: null });
    expect(group?.words).toContain("not estimable, because none tripped");
  });

  it("give each specimen's margin to its limit", () => {
    const { points } = marginsView({ store }, question({})).figure;
    expect(points.map(({ label, ratio, censored }) => [label, Number(ratio.toFixed(3)), censored])).toEqual([
      ["A", 0.333, false],
      ["B", 1.05, true],
      ["C", 1.083, false],
      ["D", 0.417, true],
    ]);
  });
});
