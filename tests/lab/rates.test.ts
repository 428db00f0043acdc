import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { RatesQuery } from "../../src/contract/rates.ts";
import { clusteredProportion } from "../../src/core/stats/clustered-proportion.ts";
import { ratesView } from "../../src/lab/rates.ts";
import { ratesCsv } from "../../src/lab/rates-csv.ts";
import { readRateQuestion } from "../../src/lab/rates-question.ts";
import type { Store } from "../../src/store/open-store.ts";
import { openLab, receiveSpecimen, shootAt, specimenWith } from "./rates-lab.ts";

let store: Store;
beforeEach(() => {
  store = openLab();
});
afterEach(() => store.close());

const ask = (query: RatesQuery = {}) => ratesView({ store }, readRateQuestion(query));
const counts = (query: RatesQuery = {}) =>
  ask(query).rows.map(({ label, k, n, undetermined, excluded }) => [label, k, n, undetermined, excluded]);

describe("which shots a rate counts", () => {
  it("counts by default the first shot as found, and what was not decided apart", () => {
    specimenWith(store, "A", ["pass", "never"]);
    specimenWith(store, "B", ["never", "pass", "pass"]);
    specimenWith(store, "C", ["late"]);
    specimenWith(store, "D", ["undetermined", "pass"]);
    specimenWith(store, "E", ["excluded", "never"]);
    receiveSpecimen(store, "F");
    const view = ask();
    expect(counts()).toEqual([["all", 2, 3, 1, 1]]);
    expect(view.rows[0]).toMatchObject({ estimate: 2 / 3, lowest: 2 / 5, highest: 4 / 5 });
    expect(view.specimens).toMatchObject({ received: 6, counted: 5, notShotSo: 1 });
    expect(view.criterion).toContain("as found");
    expect(view.criterion).toContain("200 %");
    expect(view.sentence).toContain("2 of 3 specimens failed: 66.7 %");
    expect(view.caution).toContain("suspicion");
  });

  it("leaves out a specimen whose handle was moved before its first shot, and counts it as exercised", () => {
    const moved = receiveSpecimen(store, "A");
    store.ledger.append("handle-moved", { specimen: moved, operations: 3, note: "" }, { actor: "tester" });
    shootAt(store, moved, 2, "never");
    expect(counts()).toEqual([["all", 0, 0, 0, 0]]);
    expect(counts({ state: "exercised" })).toEqual([["all", 1, 1, 0, 0]]);
    expect(counts({ state: "any" })).toEqual([["all", 1, 1, 0, 0]]);
  });

  it("counts a specimen once, by its worst decided shot or by its earliest", () => {
    specimenWith(store, "A", ["pass", "never", "pass"]);
    specimenWith(store, "B", ["undetermined", "pass"]);
    specimenWith(store, "C", ["excluded", "undetermined"]);
    expect(counts({ state: "any" })).toEqual([["all", 1, 2, 1, 0]]);
    expect(counts({ state: "any", take: "first" })).toEqual([["all", 0, 1, 1, 1]]);
    expect(counts({ state: "exercised" })).toEqual([["all", 1, 2, 1, 0]]);
  });

  it("keeps a trip in a hold test apart from a failure to trip", () => {
    const specimen = receiveSpecimen(store, "A");
    shootAt(store, specimen, 1, "nuisance");
    shootAt(store, specimen, 2, "pass");
    shootAt(store, receiveSpecimen(store, "B"), 1, "held");
    expect(counts()).toEqual([["all", 0, 0, 0, 0]]);
    expect(counts({ failure: "nuisance-trip" })).toEqual([["all", 1, 2, 0, 0]]);
    expect(counts({ failure: "any-fail", state: "any" })).toEqual([["all", 1, 2, 0, 0]]);
    expect(ask({ failure: "nuisance-trip" }).criterion).toContain("must hold");
  });

  it("counts a specimen once in each stratum of its shots and once in the total", () => {
    const specimen = receiveSpecimen(store, "A", { poles: 2 });
    shootAt(store, specimen, 2, "pass");
    shootAt(store, specimen, 2, "never", { loading: "pole-2" });
    shootAt(store, specimen, 1.35, "pass", { loading: "all" });
    const view = ask({ state: "any", by: "multiple" });
    expect(view.rows.map(({ label, k, n }) => [label, k, n])).toEqual([
      ["135 %", 0, 1],
      ["200 %", 1, 1],
    ]);
    expect(view.total).toMatchObject({ k: 1, n: 1 });
    expect(view.compared).toEqual([]);
    expect(counts({ state: "any", point: "2", loading: "pole-1" })).toEqual([["all", 0, 1, 0, 0]]);
  });

  it("leaves out invented specimens, and says how many", () => {
    specimenWith(store, "A", ["pass"]);
    specimenWith(store, "B", ["never"], { demo: true });
    expect(counts()).toEqual([["all", 0, 1, 0, 0]]);
    expect(ask().notes.join()).toContain("Left out as invented: 1");
  });

  it("counts them in a demo lab, and says that all are invented", () => {
    store.close();
    store = openLab(undefined, true);
    specimenWith(store, "B", ["never"]);
    expect(counts()).toEqual([["all", 1, 1, 0, 0]]);
    expect(ask().criterion).toContain("every specimen is invented");
  });
});

describe("strata", () => {
  it("divide by recorded attributes in their own order, and say what is not recorded", () => {
    specimenWith(store, "A", ["never"], { madeYear: 1988, ratedAmps: 100 });
    specimenWith(store, "B", ["pass"], { madeYear: 1974, ratedAmps: 20 });
    specimenWith(store, "C", ["pass"], { madeYear: 1979, ratedAmps: 15 });
    specimenWith(store, "D", ["pass"], { ratedAmps: 1000 });
    expect(counts({ by: "decade" })).toEqual([
      ["1970s", 0, 2, 0, 0],
      ["1980s", 1, 1, 0, 0],
      ["not recorded", 0, 1, 0, 0],
    ]);
    expect(counts({ by: "ratedAmps" }).map(([label]) => label)).toEqual([
      "up to 15 A",
      "over 15 to 20 A",
      "over 50 to 100 A",
      "over 800 A",
    ]);
    expect(ask({ by: "decade,poles" }).rows[0]?.stratum).toEqual({ decade: "1970s", poles: "1 pole" });
    expect(counts({ only: "decade=1970s" })).toEqual([["all", 0, 2, 0, 0]]);
  });

  it("add up to the total, whatever they are divided by", () => {
    const endings = ["pass", "never", "late", "undetermined", "excluded"] as const;
    for (let i = 0; i < 40; i += 1)
      specimenWith(store, `S${i}`, [endings[(i * 7) % 5] ?? "pass"], {
        poles: i % 3 === 0 ? 2 : 1,
        makeCode: `m${i % 4}`,
        ...(i % 5 === 0 ? {} : { job: `j${i % 6}`, panel: `p${i % 2}` }),
      });
    for (const by of ["poles", "makeCode", "job", "panel", "poles,makeCode", "multiple", "lab"]) {
      const { rows, total } = ask({ by });
      for (const key of ["k", "n", "undetermined", "excluded"] as const)
        expect(rows.reduce((sum, row) => sum + row[key], 0)).toBe(total[key]);
      expect(total).toEqual(ask().total);
    }
  });

  it("are compared: two by Fisher's exact test, and with their clusters by Rao and Scott's", () => {
    // 3 of 4 against 1 of 4: p = 34/70 (Fisher R A, The Design of Experiments, chapter 2: the lady tasting tea, two-sided).
    for (const [make, failed] of [
      ["a", 3],
      ["b", 1],
    ] as const)
      for (let i = 0; i < 4; i += 1)
        specimenWith(store, `${make}${i}`, [i < failed ? "never" : "pass"], { makeCode: make });
    const compared = ask({ by: "makeCode", clusters: "none" }).compared;
    expect(compared).toHaveLength(1);
    expect(compared[0]?.p).toBeCloseTo(34 / 70, 12);
    expect(ask({ by: "makeCode" }).compared.map(({ method }) => method)).toEqual([
      "Rao-Scott test",
      "Fisher's exact test",
    ]);
  });
});

describe("clusters", () => {
  it("are panels of a job unless told otherwise, and a specimen without a job is one of its own", () => {
    for (const [panel, failed] of [
      ["p", 3],
      ["q", 0],
    ] as const)
      for (let i = 0; i < 4; i += 1)
        specimenWith(store, `${panel}${i}`, [i < failed ? "never" : "pass"], { job: "J", panel });
    specimenWith(store, "lone1", ["pass"]);
    specimenWith(store, "lone2", ["never"]);
    const expected = clusteredProportion(
      [
        { y: 3, m: 4 },
        { y: 0, m: 4 },
        { y: 1, m: 1 },
        { y: 0, m: 1 },
      ],
      0.95,
    );
    const { total } = ask();
    expect(total.clusters).toBe(4);
    expect(total.designEffect).toBeCloseTo(expected.designEffect ?? Number.NaN, 12);
    expect(total.effectiveSampleSize).toBeCloseTo(expected.effectiveSampleSize ?? Number.NaN, 12);
    expect(total.intervals.clusterRobust).toEqual(expected.interval);
    expect(ask({ clusters: "job" }).total.clusters).toBe(3);
    expect(ask({ clusters: "none" }).total).toMatchObject({ clusters: null, designEffect: null });
  });
});

describe("nothing to estimate", () => {
  it("is said plainly, never as a number", () => {
    const view = ask({ point: "3" });
    expect(view.rows[0]).toMatchObject({ k: 0, n: 0, estimate: null, lowest: null, highest: null });
    expect(view.sentence).toContain("Not estimable");
    expect(view.notes.join()).toContain("no multiple at all");
    expect(JSON.stringify(view)).not.toContain("NaN");
    expect(ratesCsv(view)).not.toContain("NaN");
  });

  it("gives bounds at no failure, and no cluster-robust interval", () => {
    for (let i = 0; i < 20; i += 1) specimenWith(store, `S${i}`, ["pass"], { job: "J", panel: `p${i % 3}` });
    const { total } = ask();
    // 1 - 0.025^(1/20), Clopper & Pearson (1934).
    expect(total.intervals.clopperPearson?.upper).toBeCloseTo(1 - 0.025 ** (1 / 20), 12);
    expect(total.intervals.clusterRobust).toBeNull();
  });
});

describe("questions that are refused", () => {
  it.each([
    [{ by: "colour" }, "poles"],
    [{ by: "poles,colour" }, "colour"],
    [{ confidence: "1" }, "above 0 and below 1"],
    [{ confidence: "0" }, "above 0 and below 1"],
    [{ confidence: "x" }, "above 0 and below 1"],
    [{ point: "-2" }, "multiple of rated current"],
    [{ state: "new" }, "as-found, exercised, any"],
    [{ only: "decade" }, "attribute=value"],
    [{ take: "best" }, "worst, first"],
  ])("%o", (query, words) => {
    expect(() => readRateQuestion(query)).toThrow(words);
  });
});
