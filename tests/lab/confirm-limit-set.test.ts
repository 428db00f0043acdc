import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { confirmLimitSet, isConfirmed, limitSetView } from "../../src/lab/confirm-limit-set.ts";
import { judgeByHand } from "../../src/lab/judge-by-hand.ts";
import { prepareShot } from "../../src/lab/prepare-shot.ts";
import { rederive } from "../../src/lab/rederive.ts";
import { shotView } from "../../src/lab/shot-view.ts";
import { at200, measuringLab, rig, shoot, specimen } from "./measuring-lab.ts";

let place: ReturnType<typeof measuringLab>;
beforeEach(() => {
  place = measuringLab();
});
afterEach(() => place.remove());

const set = "ul-489-calibration";
const copy = { document: "UL 489", edition: "invented edition", by: "N. N." };

describe("a confirmation", () => {
  it("holds for the rows named and no other", () => {
    const { lab } = place;
    expect(isConfirmed(lab, set, "200-to-30")).toBe(false);
    const body = confirmLimitSet(lab, set, { ...copy, rows: ["200-to-30"] });
    expect(body).toMatchObject({ limitSetHash: lab.limits.hashOf(set), on: "2026-06-15", note: "" });
    expect(isConfirmed(lab, set, "200-to-30")).toBe(true);
    expect(isConfirmed(lab, set, "135-to-50")).toBe(false);
    expect(limitSetView(lab, lab.limits.get(set))).toMatchObject({
      confirmed: false,
      confirmedRows: ["200-to-30"],
      confirmations: [{ by: "N. N.", holds: true }],
    });
    confirmLimitSet(lab, set, copy);
    expect(limitSetView(lab, lab.limits.get(set)).confirmed).toBe(true);
  });

  it("covers instantaneous rows too, and every set that is shipped can be confirmed whole", () => {
    const { lab } = place;
    for (const one of lab.limits.all()) {
      confirmLimitSet(lab, one.id, copy);
      expect(limitSetView(lab, one).confirmed).toBe(true);
      const rows = [...one.rows, ...(one.instantaneous ?? [])].map((row) => row.id);
      expect(limitSetView(lab, one).confirmedRows).toEqual(rows);
    }
  });

  it("stands behind a shot by name, and a later one does not", async () => {
    const { lab } = place;
    const confirmedOf = (shot: string) =>
      shotView(lab, shot).provenance.find((one) => one.what === "Confirmed");
    const before = await shoot(lab, at200);
    confirmLimitSet(lab, set, copy);
    const after = await shoot(lab, at200);
    confirmLimitSet(lab, set, { ...copy, by: "Somebody later" });
    expect(before.closed.verdict.confirmed).toBe(false);
    expect(confirmedOf(before.opened.shot)).toMatchObject({ value: "no" });
    expect(after.closed.verdict.confirmed).toBe(true);
    expect(confirmedOf(after.opened.shot)).toMatchObject({
      value: "yes",
      from: expect.stringContaining("compared by N. N. on 2026-06-15"),
    });
    expect(rederive(lab)).toMatchObject({ shots: 2, same: 2 });
  });

  it("no longer holds once the set has changed, and is still shown", () => {
    const { lab } = place;
    confirmLimitSet(lab, set, copy);
    const changed = { ...lab, limits: { ...lab.limits, hashOf: () => "0".repeat(64) } };
    expect(isConfirmed(changed, set, "200-to-30")).toBe(false);
    expect(limitSetView(changed, lab.limits.get(set))).toMatchObject({
      confirmed: false,
      confirmedRows: [],
      confirmations: [{ holds: false }],
    });
  });

  it("is what a shot takes with it, and what a judgement by hand says", () => {
    const { lab } = place;
    const hand = {
      rated: 20,
      poles: 1,
      multiple: 2,
      seconds: 30,
      k: 2,
      rule: "simple",
      r: 1,
      require: "trip",
    } as const;
    expect(prepareShot(lab, specimen, at200, rig).confirmed).toBe(false);
    confirmLimitSet(lab, set, { ...copy, rows: ["200-to-30"] });
    expect(prepareShot(lab, specimen, at200, rig).confirmed).toBe(true);
    expect(prepareShot(lab, specimen, { ...at200, multiple: 1.35 }, rig).confirmed).toBe(false);
    expect(judgeByHand(lab.limits, hand, lab)).toMatchObject({ confirmed: true });
    expect(judgeByHand(lab.limits, hand, lab).reasons.join(" ")).toContain(
      "Row 200-to-30 of ul-489-calibration is confirmed",
    );
    expect(judgeByHand(lab.limits, hand)).toMatchObject({ confirmed: false });
  });

  it.each([
    [{ rows: ["200-to-30", "nothing"] }, "found nothing"],
    [{ rows: [] }, "found none"],
    [{ by: " " }, "by: is empty"],
    [{ on: "2026-02-30" }, "found 2026-02-30"],
    [{ on: "2026-06-16" }, "lies ahead"],
  ])("is refused with %j and stores nothing", (wrong, words) => {
    const before = place.lab.store.ledger.head().sequence;
    expect(() => confirmLimitSet(place.lab, set, { ...copy, ...wrong })).toThrow(words);
    expect(() => confirmLimitSet(place.lab, "no-set", copy)).toThrow("there are: ");
    expect(place.lab.store.ledger.head().sequence).toBe(before);
  });
});
