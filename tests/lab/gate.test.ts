import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { GateItem } from "../../src/contract/ledger-entries.ts";
import { gateView, passGate } from "../../src/lab/gate.ts";
import { lockProgramme } from "../../src/lab/lock-programme.ts";
import { addPhotograph } from "../../src/lab/photographs.ts";
import { defaultPolicy, gateItems, policyOf, policyWords, setPolicy } from "../../src/lab/policy.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import { at200, measuringLab, shoot, specimen } from "./measuring-lab.ts";
import { png } from "./pictures.ts";

let place: ReturnType<typeof measuringLab>;
beforeEach(() => {
  place = measuringLab();
});
afterEach(() => place.remove());

const demand = (...items: GateItem[]) =>
  setPolicy(place.lab, {
    gate: { ...defaultPolicy.gate, ...Object.fromEntries(items.map((item) => [item, "demanded" as const])) },
  });
const pass = (id: string, more: object) => passGate(place.lab, id, { by: "N. N.", ...more }, "gate.json");
const sequence = () => place.lab.store.ledger.head().sequence;
const everything = {
  checks: [{ check: "handle position", found: "on" }],
  parties: [{ party: "insurer", notifiedOn: "2026-06-01", answer: "will not attend" }],
  present: ["A. B."],
  authority: { by: "owner", on: "2026-06-02", words: "destructive tests allowed" },
};

describe("the gate before the first current", () => {
  it("demands nothing until the lab decides so, also where older decisions do not speak of it", async () => {
    const { gate: _, ...older } = { ...defaultPolicy, coolingTauSeconds: 900 };
    place.lab.store.ledger.append("policy-set", older as typeof defaultPolicy, { actor: "older version" });
    expect(policyOf(place.lab)).toEqual({ ...defaultPolicy, coolingTauSeconds: 900 });
    expect((await shoot(place.lab, at200)).closed.verdict.result).toBe("pass");
  });

  it.each(gateItems.map((item) => [item]))(
    "refuses the shot while %s is demanded and missing",
    async (item) => {
      demand(item);
      const id = receiveSpecimen(place.lab, specimen);
      const before = sequence();
      await expect(shoot(place.lab, at200)).rejects.toThrow(/no current through A-1 yet/);
      expect(sequence()).toBe(before);
      const view = gateView(place.lab, id);
      expect(view.open).toBe(false);
      expect(view.lines.filter((line) => line.state === "missing").map((line) => line.item)).toEqual([item]);
      pass(id, { skipped: [{ item, reason: "invented reason" }] });
      expect(gateView(place.lab, id).lines.find((line) => line.item === item)).toMatchObject({
        state: "skipped",
        words: "invented reason",
      });
      expect((await shoot(place.lab, at200)).closed.verdict.result).toBe("pass");
    },
  );

  it("names everything that is missing at once, and opens when all of it is there", async () => {
    demand(...gateItems);
    const id = receiveSpecimen(place.lab, specimen);
    await expect(shoot(place.lab, at200)).rejects.toThrow(
      /photographs as received .*; checks that alter nothing .*; programme and decision rule locked .*; parties notified .*; authority to proceed/,
    );
    expect(() => pass(id, everything)).toThrow(
      /still missing: photographs as received .*; programme and decision rule locked/,
    );
    const told = { about: { kind: "specimen", id }, name: "a.png", by: "N. N." };
    addPhotograph(place.lab, png, { ...told, shows: "marking" }, "a.png");
    expect(gateView(place.lab, id).lines[0]?.state).toBe("missing");
    const other = Buffer.concat([png, Buffer.from("x")]);
    const { record } = addPhotograph(place.lab, other, { ...told, shows: "as received" }, "a.png");
    lockProgramme(place.lab, id, {
      ...{ programme: "limit set", limitSet: "ul-489-calibration", rule: { kind: "simple" } },
    });
    const view = pass(id, everything);
    expect(view).toMatchObject({ open: true, currentHasFlowed: false });
    expect(view.passages[0]).toMatchObject({
      by: "N. N.",
      passage: { ...everything, photographs: [record.photograph], programmeLock: sequence() - 1 },
    });
    await shoot(place.lab, at200);
    expect(gateView(place.lab, id).currentHasFlowed).toBe(true);
    expect(() => pass(id, everything)).toThrow("current has flowed through A-1 already");
  });

  it("is asked before a specimen is received, and not again after the first current", async () => {
    await shoot(place.lab, at200);
    demand("authority");
    await expect(shoot(place.lab, at200)).resolves.toBeDefined();
    const desk = shoot(place.lab, at200, "sound", { ...specimen, label: "A-2" });
    await expect(desk).rejects.toThrow("no current through A-2 yet");
  });

  it.each<[string, object, string]>([
    ["a skip without a reason", { skipped: [{ item: "parties", reason: "" }] }, "reason must"],
    ["a skip of nothing known", { skipped: [{ item: "tea", reason: "x" }] }, "item must be one of"],
    [
      "a skip twice",
      { skipped: ["a", "b"].map((reason) => ({ item: "parties", reason })) },
      "parties is skipped twice",
    ],
    [
      "a skip of what is there",
      { ...everything, skipped: [{ item: "parties", reason: "x" }] },
      "need not be skipped",
    ],
    ["an authority of tomorrow", { authority: { ...everything.authority, on: "2026-06-16" } }, "lies ahead"],
    ["a day that is none", { authority: { ...everything.authority, on: "2026-02-30" } }, "there is no day"],
    ["nobody", { by: "\n" }, "by must match"],
  ])("%s is refused and nothing is stored", (_, more, words) => {
    const id = receiveSpecimen(place.lab, specimen);
    const before = sequence();
    expect(() => pass(id, more)).toThrow(words);
    expect(sequence()).toBe(before);
  });

  it("is part of the policy in words", () => {
    expect(policyWords(defaultPolicy).at(-1)).toContain("nothing is demanded");
    expect(policyWords(demand("parties")).at(-1)).toContain("parties notified");
  });
});
