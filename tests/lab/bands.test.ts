import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { addBand, bandViews, importBand } from "../../src/lab/bands.ts";
import { judgeByHand } from "../../src/lab/judge-by-hand.ts";
import { setPolicy } from "../../src/lab/policy.ts";
import { prepareShot } from "../../src/lab/prepare-shot.ts";
import { rederive } from "../../src/lab/rederive.ts";
import { at200, measuringLab, rig, shoot, specimen } from "./measuring-lab.ts";

let place: ReturnType<typeof measuringLab>;
beforeEach(() => {
  place = measuringLab();
});
afterEach(() => place.remove());

const about = { id: "mk-t1", title: "Invented band", source: { document: "invented curve" } };
const codes = { makeCode: "MK", typeCode: "T1" };
const table = (minimum = 10, maximum = 100) =>
  `edge,multiple,seconds\nminimum,1.5,60\nminimum,3,${minimum}\n\nmaximum,1.5,400\nmaximum,3,${maximum}\n`;
const add = (more: object = codes, text = table()) =>
  importBand(place.lab, place.file("band.csv", text), { ...about, ...more });

describe("importing a band", () => {
  it("keeps the same edges from CSV, JSON and a form", () => {
    add();
    const [first] = bandViews(place.lab);
    const { current, minimum, maximum } = first?.band ?? { current: "amps", minimum: [], maximum: [] };
    expect([current, minimum]).toEqual([
      "multiple",
      [
        [1.5, 60],
        [3, 10],
      ],
    ]);
    const edges = { current, minimum: [...minimum], maximum: [...maximum] };
    importBand(place.lab, place.file("band.json", JSON.stringify(edges)), { ...about, id: "second" });
    addBand(place.lab, { ...about, ...edges, id: "third" }, "band");
    for (const { band } of bandViews(place.lab)) expect(band).toMatchObject(edges);
    expect(first?.band.source).toMatchObject({ standing: "seen second-hand", doubtful: false });
  });

  it.each([
    ["edges that cross", table(200), "line 3: the edges cross"],
    [
      "a current that does not rise",
      table().replace("minimum,3,", "minimum,1.5,"),
      "line 3: multiple must rise",
    ],
    ["a time that is not positive", table(0), "line 3: seconds must be positive"],
    ["a field too many", table().replace("400", "400,1"), "line 5: expected 3 fields"],
    ["no header", "minimum,1.5,60\n", "line 1: expected the header"],
    ["a quote that does not end", table().replace("minimum,3", 'minimum,"3'), "line "],
  ])("refuses %s, names the line and stores nothing", (_what, text, words) => {
    const before = place.lab.store.ledger.head().sequence;
    expect(() => add(codes, text)).toThrow(words);
    expect(place.lab.store.ledger.head().sequence).toBe(before);
  });

  it("refuses an identifier that is taken, by a limit set too, and points of the wrong form", () => {
    add();
    expect(() => add()).toThrow("is taken");
    expect(() => add({ id: "ul-489-calibration" })).toThrow("is taken");
    expect(() => add({ id: "Not An Id" })).toThrow("id must match");
    const json = (value: unknown) => place.file("x.json", JSON.stringify(value));
    expect(() =>
      importBand(place.lab, json({ current: "amps", minimum: [[1, 2]] }), { ...about, id: "x" }),
    ).toThrow("maximum is missing");
    expect(() =>
      importBand(
        place.lab,
        json({
          current: "amps",
          minimum: [
            [1, 5],
            [2, 4],
          ],
          maximum: [
            [1, 4],
            [2, 8],
          ],
        }),
        {
          ...about,
          id: "x",
        },
      ),
    ).toThrow("minimum[0]: the edges cross");
    expect(bandViews(place.lab)).toHaveLength(1);
  });
});

describe("which limit a shot is judged by", () => {
  const choice = (more: object = {}) => prepareShot(place.lab, specimen, { ...at200, ...more }, rig).choice;

  it("is the row alone while no band has the codes of the specimen", () => {
    add({ makeCode: "MK", typeCode: "T2" });
    expect(choice()).toBeUndefined();
    expect(choice({ band: "mk-t1" })).toMatchObject({ by: "band" });
  });

  it("follows the order of precedence that the lab has chosen", () => {
    add();
    expect(choice()).toMatchObject({ by: "band", band: { id: "mk-t1" } });
    setPolicy(place.lab, { precedence: "table first" });
    expect(choice()).toMatchObject({ by: "table" });
    expect(choice()?.words).toContain("Order of precedence: table first");
  });

  it("takes a band in amperes only where it is named, since it belongs to one rating", () => {
    const text = "edge,amps,seconds\nminimum,30,60\nminimum,60,10\nmaximum,30,400\nmaximum,60,100\n";
    add(codes, text);
    expect(choice()).toBeUndefined();
    expect(choice({ band: "mk-t1" })).toMatchObject({ by: "band" });
  });

  it("leaves a hold to the table, and refuses a band that says nothing at the current", () => {
    add();
    expect(prepareShot(place.lab, specimen, { ...at200, multiple: 1 }, rig).choice).toBeUndefined();
    expect(() => choice({ multiple: 1, band: "mk-t1" })).toThrow("is a hold");
    expect(() => choice({ multiple: 1.35, band: "mk-t1" })).toThrow(
      "both edges run over 1.5 to 3 times rating",
    );
    expect(() => choice({ band: "none" })).toThrow('no band "none"; there are: mk-t1');
    expect(choice({ multiple: 1.35 })).toBeUndefined();
  });

  it("ends the shot beyond the longest time of the band at the lowest current that regulation allows", () => {
    add();
    // Straight line in log-log from (1.5, 400) to (3, 100): t = 400 (1.5 / m)^2, so 229.6 s at 1.96.
    const { endAtSeconds } = prepareShot(place.lab, specimen, at200, rig);
    expect(endAtSeconds).toBeGreaterThan(400 * (1.5 / 1.96) ** 2 * 1.05);
    expect(endAtSeconds).toBeLessThan(400 * (1.5 / 1.96) ** 2 * 1.05 + 3);
  });
});

describe("a shot judged by a band", () => {
  it("carries the band, prints the choice, and derives the same again", async () => {
    add();
    const { opened, closed } = await shoot(place.lab, at200);
    expect(opened.choice).toMatchObject({ by: "band", bandHash: expect.stringMatching(/^[0-9a-f]{64}$/) });
    expect(opened.choice?.band).toEqual(bandViews(place.lab)[0]?.band);
    expect(closed.verdict).toMatchObject({ result: "pass", limitSet: "mk-t1", row: null, confirmed: false });
    expect(closed.verdict.limitSeconds).toBeCloseTo(400 * (1.5 / closed.reading.multiple) ** 2, 3);
    expect(closed.verdict.reasons.join(" ")).toContain("Order of precedence: band first");
    // The lab's later decisions do not touch what is stored.
    setPolicy(place.lab, { precedence: "table first" });
    addBand(
      place.lab,
      {
        ...about,
        ...codes,
        id: "later",
        current: "multiple",
        minimum: [
          [1, 1],
          [9, 0.5],
        ],
        maximum: [
          [1, 2],
          [9, 1],
        ],
      },
      "band",
    );
    expect(rederive(place.lab)).toEqual({ shots: 1, same: 1, different: [] });
  });

  it("finds a trip too fast that the table would pass", async () => {
    add(codes, "edge,multiple,seconds\nminimum,1.5,300\nminimum,3,100\nmaximum,1.5,400\nmaximum,3,200\n");
    const { closed } = await shoot(place.lab, at200);
    expect(closed.verdict).toMatchObject({ result: "fail", finding: "too fast" });
    setPolicy(place.lab, { precedence: "table first" });
    const again = await shoot(place.lab, at200);
    expect(again.closed.verdict).toMatchObject({ result: "pass", limitSet: "ul-489-calibration" });
    expect(again.closed.verdict.reasons.join(" ")).toContain("the published band mk-t1 stands back");
  });

  it("fails one that never trips, at the end of the band with its guard band", async () => {
    add();
    const rule = { kind: "guard", r: 1 } as const;
    const { closed } = await shoot(place.lab, { ...at200, rule }, "never-trips");
    expect(closed.reading.outcome).toBe("held");
    expect(closed.verdict).toMatchObject({ result: "fail", finding: "no trip", limitSet: "mk-t1" });
    expect(rederive(place.lab)).toMatchObject({ same: 1 });
  });
});

describe("a time judged by a band by hand", () => {
  const hand = { k: 2, rule: "simple", r: 1, require: "trip", band: "mk-t1", rated: 20 } as const;

  it("is held against the edges at the current as measured", () => {
    add();
    // Edges at 1.5 times rating are points of the table itself: 60 s and 400 s.
    const at = (seconds: number) => judgeByHand(place.lab.limits, { ...hand, amps: 30, seconds }, place.lab);
    expect([at(59).finding, at(60).result, at(400).result, at(401).finding]).toEqual([
      "too fast",
      "pass",
      "pass",
      "late trip",
    ]);
  });

  it("needs the lab, both currents, and one limit only", () => {
    add();
    const ask = (more: object, lab: typeof place.lab | null = place.lab) =>
      judgeByHand(place.lab.limits, { ...hand, amps: 30, seconds: 60, ...more }, lab);
    expect(() => ask({}, null)).toThrow("--data");
    expect(() => ask({ amps: undefined })).toThrow("--amps");
    expect(() => ask({ limitSeconds: 10 })).toThrow("one limit only");
    expect(() => ask({ amps: 100 })).toThrow("it covers 1.5 to 3 times rating");
  });
});
