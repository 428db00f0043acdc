import { describe, expect, it } from "vitest";
import { specimenSchema } from "../../src/contract/specimen-schema.ts";
import { keptForNext, specimenFields, specimenFromForm } from "../../web/bench/specimen-fields.ts";
import { limitLines, timeStretches } from "../../web/bench/time-stretches.ts";
import { timeTickWords } from "../../web/charts/current-chart.ts";
import { filterShots } from "../../web/record/filter-shots.ts";
import { parseRoute, routeTo } from "../../web/routing.ts";
import { problemOfField } from "../../web/server/request.ts";
import { elapsedWords, liveAmpsWords } from "../../web/words/quantities.ts";
import { currentMayFlow, loadingWords, operationWords, shotStates } from "../../web/words/state-words.ts";
import { outcomeWords } from "../../web/words/verdict-words.ts";

describe("routes", () => {
  it("come back as they went", () => {
    expect(parseRoute(routeTo("record", "489R-T0001"), "bench")).toEqual({
      page: "record",
      rest: ["489R-T0001"],
    });
    expect(parseRoute(routeTo("bench", "a/b %"), "bench")).toEqual({ page: "bench", rest: ["a/b %"] });
  });

  it("fall back to the first page, and do not fail on damage", () => {
    expect(parseRoute("", "bench")).toEqual({ page: "bench", rest: [] });
    expect(parseRoute("#/record/%E0%A4%A", "bench")).toEqual({ page: "record", rest: ["%E0%A4%A"] });
  });
});

describe("running displays", () => {
  it.each([
    [0, "0.0 s"],
    [43.29, "43.2 s"],
    [59.99, "59.9 s"],
    [60, "1 min 00.0 s"],
    [125.3, "2 min 05.3 s"],
    [3725.9, "1 h 02 min 05 s"],
  ])("show %d seconds as %s and never run ahead", (seconds, words) => {
    expect(elapsedWords(seconds)).toBe(words);
  });

  it.each([
    [4.5, "4.50 A"],
    [40, "40.0 A"],
    [1500.4, "1500 A"],
  ])("show %d amperes as %s", (amps, words) => {
    expect(liveAmpsWords(amps)).toBe(words);
  });

  it("number the time axis in the unit that suits its span", () => {
    expect([timeTickWords(20, 120), timeTickWords(600, 7600), timeTickWords(7200, 20_000)]).toEqual([
      "20 s",
      "10 min",
      "2 h",
    ]);
  });
});

describe("the time of a test", () => {
  it("is cut at its limits without gap or overlap", () => {
    for (const requirement of [
      { kind: "trip-within", maxSeconds: 120 } as const,
      { kind: "trip-between", minSeconds: 1, maxSeconds: 60 } as const,
      { kind: "hold-for", seconds: 100 } as const,
    ]) {
      const stretches = timeStretches(requirement, 130);
      expect(stretches[0]?.from).toBe(0);
      expect(stretches.at(-1)?.to).toBe(130);
      stretches.slice(1).forEach((stretch, i) => {
        expect(stretch.from).toBe(stretches[i]?.to);
      });
      expect(limitLines(requirement).map((line) => line.seconds)).toEqual(
        stretches.slice(1).map((stretch) => stretch.from),
      );
    }
  });

  it("has no stretch after a limit at which the test ends", () => {
    expect(timeStretches({ kind: "hold-for", seconds: 100 }, 100)).toEqual([
      { from: 0, to: 100, meaning: "too soon" },
    ]);
  });
});

describe("the form of a specimen", () => {
  const whole = { label: " A-1 ", ratedAmps: "20", poles: "2", volts: "240" };

  it("leaves out what is not known", () => {
    expect(specimenFromForm({ ...whole, job: "  " })).toEqual({
      ok: true,
      details: { label: "A-1", ratedAmps: 20, poles: 2, volts: 240 },
    });
  });

  it("says of every wrong field what was found and what is accepted", () => {
    const read = specimenFromForm({ ...whole, label: "", ratedAmps: "20A" });
    expect(read).toEqual({
      ok: false,
      fields: [
        { field: "label", problem: "Enter the label, for example ML-09." },
        { field: "ratedAmps", problem: 'Found "20A"; a number is accepted, for example 20 A.' },
      ],
    });
  });

  it("keeps what the next specimen of the same panel shares, and never its label", () => {
    expect(keptForNext({ ...whole, job: "Mill Lane", circuit: "4" })).toEqual({
      ratedAmps: "20",
      poles: "2",
      volts: "240",
      job: "Mill Lane",
    });
  });

  it("offers every field that the contract accepts, and no other", () => {
    const offered = [...specimenFields.map((field) => field.name), "demo", "emulatedBreaker"];
    expect([...offered].sort()).toEqual(Object.keys(specimenSchema.properties).sort());
  });
});

describe("words of states", () => {
  it("say current while it may flow, and only then", () => {
    expect(shotStates.filter(({ state }) => currentMayFlow(state)).map(({ state }) => state)).toEqual([
      "inject",
      "watch",
      "end",
    ]);
  });

  it("keep as found apart from tested without a trip", () => {
    expect(operationWords({ kind: "as-found" })).toBe("as found");
    expect(operationWords({ kind: "exercised", operations: 0 })).toBe("exercised, not operated");
    expect(operationWords({ kind: "exercised", operations: 1 })).toBe("exercised, operated 1 time");
  });

  it("never call the absence of a trip a trip", () => {
    expect(outcomeWords({ outcome: "held", seconds: null, heldSeconds: 127 })).toBe(
      "did not trip in 2 min 07 s",
    );
    expect(outcomeWords({ outcome: "interrupted", seconds: null, heldSeconds: 31 })).toBe(
      "was interrupted after 31 s without a trip",
    );
    expect(outcomeWords({ outcome: "tripped", seconds: 43.2, heldSeconds: 43.2 })).toBe(
      "tripped after 43.2 s",
    );
  });

  it("name the poles that carry current", () => {
    expect(loadingWords("all", 3)).toBe("all 3 poles in series");
    expect(loadingWords("pole-2", 3)).toBe("pole 2 alone");
  });
});

describe("problemOfField()", () => {
  const problem = {
    type: "",
    title: "",
    status: 400,
    detail: "",
    fields: [{ field: "body/ratedAmps", problem: "must be > 0" }],
  };
  it("finds a field by its name, with or without a path before it", () => {
    expect(problemOfField(problem, "ratedAmps")).toBe("must be > 0");
    expect(problemOfField(problem, "volts")).toBeNull();
    expect(problemOfField(null, "volts")).toBeNull();
  });
});

describe("filterShots()", () => {
  const line = (label: string, result: "pass" | "fail") =>
    ({ id: `T-${label}`, specimen: "S1", label, job: "Mill Lane", result }) as never;
  it("wants every word and the result", () => {
    const lines = [line("A-1", "pass"), line("A-2", "fail")];
    expect(filterShots(lines, "mill a-", "all")).toHaveLength(2);
    expect(filterShots(lines, "mill a-2", "all")).toEqual([lines[1]]);
    expect(filterShots(lines, "", "pass")).toEqual([lines[0]]);
    expect(filterShots(lines, "quay", "all")).toEqual([]);
  });
});
