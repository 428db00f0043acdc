import { createHash } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { PoolQuery } from "../../src/contract/studies.ts";
import { importStudies, parseStudies, recordedStudies } from "../../src/lab/import-studies.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { loadLimitLibrary } from "../../src/lab/limit-library.ts";
import { pool, poolByEveryModel } from "../../src/lab/pool-request.ts";
import { readPoolQuestion } from "../../src/lab/pool-studies.ts";
import { openLab, specimenWith } from "./rates-lab.ts";

let lab: Lab;
beforeEach(() => {
  lab = {
    store: openLab(),
    limits: loadLimitLibrary(),
    now: () => new Date("2026-05-01T00:00:00Z"),
    actor: "tester",
  };
});
afterEach(() => lab.store.close());

const header = "study,year,stratum,criterion,multiple,tested,failed,selection,citation,rob_sampling";
const line = (
  study: string,
  failed: number,
  tested: number,
  criterion = "no trip within the limit",
  multiple = "2",
) => `${study},1990,all,${criterion},${multiple},${tested},${failed},at random,invented for a test,low`;
const file = (...lines: string[]) => [header, ...lines].join("\n");
const poolOf = (text: string, query: PoolQuery = {}) =>
  pool(null, parseStudies(text, "s.csv"), readPoolQuestion(query));

describe("a file of studies", () => {
  it("is recorded whole, with the hash of its bytes", () => {
    const recorded = importStudies(lab, file(line("A", 3, 10), line("B", 0, 7)), "s.csv");
    expect(recorded.map(({ counts }) => [counts.study, counts.failed, counts.tested])).toEqual([
      ["A", 3, 10],
      ["B", 0, 7],
    ]);
    expect(recorded[0]?.counts.riskOfBias).toEqual({ sampling: "low" });
    expect(recordedStudies(lab)).toEqual(recorded);
    const [entry] = lab.store.ledger.entries({ kind: "study-recorded" });
    expect(entry?.body.fileHash).toBe(
      createHash("sha256")
        .update(file(line("A", 3, 10), line("B", 0, 7)))
        .digest("hex"),
    );
    expect(lab.store.compareProjections()).toEqual({ same: true });
  });

  it.each([
    ["failed above tested", line("A", 11, 10), "line 2, failed", "from 0 to 10"],
    ["a fraction", line("A", 1.5, 10), "line 2, failed", "whole number"],
    ["a negative count", line("A", -1, 10), "line 2, failed", "whole number"],
    ["nothing tested", line("A", 0, 0), "line 2, tested", "1 or more"],
    ["no number", line("A", 0, 10).replace("1990", "soon"), "line 2, year", "1900 to 2100"],
    [
      "an unknown selection",
      line("A", 0, 10).replace("at random", "luck"),
      "line 2, selection",
      "on suspicion",
    ],
    [
      "an unknown answer",
      line("A", 0, 10).replace(",low", ",fine"),
      "line 2, rob_sampling",
      "low, high, unclear",
    ],
    ["no citation", line("A", 0, 10).replace("invented for a test", ""), "line 2, citation", "published"],
    ["a bad multiple", line("A", 0, 10, "c", "0"), "line 2, multiple", "above 0"],
    ["a row that is short", "A,1990", "line 2", "fields"],
    ["the same study twice", `${line("A", 1, 10)}\n${line("a", 2, 10)}`, "line 3, study", "as line 2"],
  ])("with %s is refused whole, naming line and column", (_what, lines, place, words) => {
    const text = file(lines);
    expect(() => importStudies(lab, text, "s.csv")).toThrow(`s.csv, ${place}`);
    expect(() => importStudies(lab, text, "s.csv")).toThrow(words);
    expect(recordedStudies(lab)).toEqual([]);
  });

  it("with one bad row among good ones stores nothing", () => {
    expect(() => importStudies(lab, file(line("A", 1, 9), line("B", 10, 9)), "s.csv")).toThrow(
      "line 3, failed",
    );
    expect(recordedStudies(lab)).toEqual([]);
  });

  it("is refused where a study is recorded already, or a column is not known", () => {
    importStudies(lab, file(line("A", 1, 9)), "s.csv");
    expect(() => importStudies(lab, file(line("B", 1, 9), line("A", 1, 9)), "s.csv")).toThrow(
      "recorded already",
    );
    expect(recordedStudies(lab)).toHaveLength(1);
    expect(() => parseStudies(`${header},colour\n`, "s.csv")).toThrow("colour");
    expect(() => parseStudies(header, "s.csv")).toThrow("holds no study");
  });
});

describe("pooling", () => {
  const many = file(
    line("A", 30, 120),
    line("B", 9, 60),
    line("C", 0, 33),
    line("D", 41, 200),
    line("E", 2, 25),
  );

  it("gives for every model a rate inside its own interval, and weights that sum to 1", () => {
    for (const model of ["glmm", "reml", "dl", "pm", "common", "beta-binomial"]) {
      const view = poolOf(many, { model });
      const { estimate, lower, upper } = view.pooled ?? { estimate: 0, lower: 1, upper: 0 };
      expect(lower).toBeLessThan(estimate);
      expect(upper).toBeGreaterThan(estimate);
      expect(view.rows.reduce((sum, { weight }) => sum + (weight ?? 0), 0)).toBeCloseTo(1, 12);
      expect(view.rows.every(({ without }) => without !== null)).toBe(true);
      expect(view.sentence).toContain("5 studies, 82 failures of 438 specimens");
      expect(JSON.stringify(view)).not.toContain("NaN");
    }
  });

  it("does not pool different criteria unless asked, and then marks them", () => {
    const mixed = file(line("A", 3, 20), line("B", 4, 20), line("C", 5, 20, "no trip in an hour", "1.35"));
    expect(() => poolOf(mixed)).toThrow("different criteria");
    expect(() => poolOf(mixed)).toThrow("no trip in an hour, at 135 %");
    const view = poolOf(mixed, { mixedCriteria: "true" });
    expect(view.rows.map(({ marked }) => marked)).toEqual([false, false, true]);
    expect(view.forest.rows.map(({ marked }) => marked === true)).toEqual([false, false, true]);
    expect(view.sentence).toContain("Criteria are mixed");
    expect(poolOf(mixed, { criterion: "No trip  within the limit" }).rows).toHaveLength(2);
    expect(() => poolOf(mixed, { criterion: "other" })).toThrow("which no study has");
  });

  it("takes two multiples of one wording for two criteria", () => {
    const two = file(line("A", 3, 20), line("B", 4, 20, "no trip within the limit", "1.35"));
    expect(() => poolOf(two)).toThrow("different criteria");
    expect(poolOf(two, { multiple: "2" }).rows).toHaveLength(1);
  });

  it("says plainly what is not estimable", () => {
    expect(poolOf(file(line("A", 3, 20)))).toMatchObject({
      pooled: null,
      prediction: null,
      q: null,
      i2: null,
    });
    expect(poolOf(file(line("A", 3, 20))).sentence).toContain("one study is no pool");
    for (const model of ["glmm", "reml", "common", "beta-binomial"]) {
      const none = poolOf(file(line("A", 0, 20), line("B", 0, 9)), { model });
      expect(none.pooled).toBeNull();
      expect(none.notEstimable).toContain("no specimen failed in any study");
      expect(poolOf(file(line("A", 20, 20), line("B", 9, 9)), { model }).pooled).toBeNull();
    }
    expect(poolOf(file(line("A", 0, 20), line("B", 9, 9))).notEstimable).toContain("no finite estimate");
    expect(poolOf(file(line("A", 3, 20), line("B", 4, 20))).prediction).toBeNull();
    expect(() => poolOf(file(line("A", 3, 20)), { confidence: "1" })).toThrow("above 0 and below 1");
    expect(() => poolOf(file(line("A", 3, 20)), { model: "best" })).toThrow("glmm");
    expect(() => pool(lab, [], readPoolQuestion({}))).toThrow("no studies to pool");
  });

  it("says what was added to a study without failures", () => {
    expect(poolOf(many, { model: "reml" }).notes.join()).toContain("One half was added");
    expect(poolOf(many).notes.join()).not.toContain("was added to failures");
  });

  it("adds the lab's own specimens, marked, where asked", () => {
    importStudies(lab, many, "s.csv");
    expect(() => pool(lab, [], readPoolQuestion({ withLab: "true" }))).toThrow("no specimen of its own");
    specimenWith(lab.store, "X", ["never"]);
    specimenWith(lab.store, "Y", ["pass"]);
    const view = pool(lab, [], readPoolQuestion({ withLab: "true" }));
    expect(view.rows.at(-1)).toMatchObject({ k: 1, n: 2, marked: true });
    expect(pool(lab, [], readPoolQuestion({})).rows).toHaveLength(5);
    expect(poolByEveryModel(lab, readPoolQuestion({}))).toHaveLength(6);
  });

  it("pools groups apart and tests whether they differ", () => {
    const groups = poolOf(
      many.replace("at random", "on suspicion").replace(/^(B.*)at random/m, "$1on suspicion"),
      {
        by: "selection",
        model: "reml",
      },
    ).groups;
    expect(groups?.pooled.map(({ label, studies }) => [label, studies])).toEqual([
      ["at random", 3],
      ["on suspicion", 2],
    ]);
    expect(groups?.p).toBeGreaterThan(0);
    expect(groups?.p).toBeLessThanOrEqual(1);
  });
});
