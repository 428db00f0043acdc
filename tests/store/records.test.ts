import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { openStore } from "../../src/store/open-store.ts";
import {
  closeShot,
  fillLab,
  newFolder,
  openedBody,
  openLab,
  openShot,
  origin,
  receive,
} from "./small-lab.ts";

describe("records", () => {
  it("list specimens in order of receipt with their operations", () => {
    const store = openLab();
    const { specimens } = fillLab(store);
    const listed = store.records.specimens();
    expect(listed.map((one) => one.specimen)).toEqual(specimens);
    expect(listed.map((one) => [one.details.label, one.details.job, one.operations, one.shots])).toEqual([
      // Tripped twice.
      ["A-1", "J1", 2, 2],
      // Held: a shot, but nothing moved.
      ["A-2", "J1", 0, 1],
      // Handle moved twice, then tripped.
      ["A-3", undefined, 3, 1],
    ]);
    expect(store.records.specimen(specimens[1] ?? "")).toEqual(listed[1]);
    expect(store.records.specimenByLabel("A-2")).toEqual(listed[1]);
    expect(store.records.specimen("none")).toBeNull();
    expect(store.records.specimenByLabel("none")).toBeNull();
    store.close();
  });

  it("call a specimen as found until its first shot or handle movement", () => {
    const store = openLab();
    const [shotFirst, movedFirst] = [receive(store, "A"), receive(store, "B")];
    expect(store.records.specimen(shotFirst)?.state).toEqual({ kind: "as-found" });
    const shot = openShot(store, shotFirst);
    expect(store.records.specimen(shotFirst)?.state).toEqual({ kind: "exercised", operations: 0 });
    closeShot(store, shot);
    expect(store.records.specimen(shotFirst)?.state).toEqual({ kind: "exercised", operations: 1 });
    store.ledger.append("handle-moved", { specimen: movedFirst, operations: 3, note: "" }, origin);
    expect(store.records.specimen(movedFirst)?.state).toEqual({ kind: "exercised", operations: 3 });
    store.close();
  });

  it("show shots newest first, a page at a time, of all or of one specimen", () => {
    const store = openLab();
    const { specimens, shots } = fillLab(store);
    const newestFirst = [...shots].reverse();
    expect(store.records.shots().map((one) => one.shot)).toEqual(newestFirst);
    const page = store.records.shots({ limit: 3 });
    expect(page.map((one) => one.shot)).toEqual(newestFirst.slice(0, 3));
    const rest = store.records.shots({ limit: 3, before: page[2]?.sequence ?? 0 });
    expect(rest.map((one) => one.shot)).toEqual(newestFirst.slice(3));
    const ofFirst = store.records.shots({ specimen: specimens[0] ?? "" });
    expect(ofFirst.map((one) => [one.shot, one.state])).toEqual([
      [shots[3], { kind: "exercised", operations: 1 }],
      [shots[0], { kind: "as-found" }],
    ]);
    expect(() => store.records.shots({ limit: 0 })).toThrow("limit must be a whole number");
    store.close();
  });

  it("hold of a shot what its two entries say", () => {
    const store = openLab();
    const { shots } = fillLab(store);
    const full = store.records.shot(shots[1] ?? "");
    expect(full?.record).toMatchObject({
      label: "A-2",
      job: "J1",
      multiple: 1.35,
      loading: "pole-1",
      outcome: "held",
      seconds: null,
      heldSeconds: 3960,
      result: "fail",
      finding: "no trip",
      samples: 90,
      demo: false,
    });
    expect(full?.record.openedAt).toBe(full?.opened.at);
    expect(full?.record.closedAt).toBe(full?.closed?.at);
    expect(full?.record.reading).toEqual(full?.closed?.body.reading);
    expect(full?.record.verdict).toEqual(full?.closed?.body.verdict);
    expect(full?.opened.body.shot).toBe(shots[1]);
    expect(store.records.shot("none")).toBeNull();
    store.close();
  });

  it("find the shots that were left open, also after a restart", () => {
    const store = openLab();
    const { specimens } = fillLab(store);
    expect(store.records.openShots()).toEqual([]);
    const shot = openShot(store, specimens[0] ?? "");
    store.close();
    const again = openLab(store.dataDir);
    expect(again.records.openShots()).toMatchObject([
      { shot, closedSequence: null, result: null, reading: null },
    ]);
    expect(again.records.shot(shot)?.closed).toBeNull();
    closeShot(again, shot);
    expect(again.records.openShots()).toEqual([]);
    again.close();
  });

  it("count identifiers up from the station's own", () => {
    const store = openLab();
    expect(store.records.nextSpecimenId()).toBe(`${store.station}-S0001`);
    expect(store.records.nextSpecimenId(2)).toBe(`${store.station}-S0003`);
    expect(store.records.nextShot()).toEqual({ shot: `${store.station}-T0001`, number: 1 });
    const { shots } = fillLab(store);
    expect(shots[3]).toBe(`${store.station}-T0004`);
    const details = { ratedAmps: 20, poles: 1, volts: 120 } as const;
    const receiveAs = (specimen: string) =>
      store.ledger.append(
        "specimen-received",
        { specimen, details: { ...details, label: specimen } },
        origin,
      );
    receiveAs("OTHR-S0500");
    expect(store.records.nextSpecimenId()).toBe(`${store.station}-S0004`);
    receiveAs(`${store.station}-S9999`);
    receiveAs(store.records.nextSpecimenId());
    expect(store.records.nextSpecimenId()).toBe(`${store.station}-S10001`);
    store.close();
  });

  it("mark everything of a demo lab, and invented specimens of any", () => {
    const demo = openLab(newFolder(), true);
    const { shots } = fillLab(demo);
    expect(demo.records.station()).toMatchObject({ demo: true, lab: "Invented lab", station: demo.station });
    expect(demo.records.specimens().every((one) => one.demo)).toBe(true);
    expect(demo.records.shot(shots[0] ?? "")?.record.demo).toBe(true);
    demo.close();
  });

  it("have no station while the ledger is empty, and no identifiers to give", () => {
    const store = openStore(newFolder());
    expect(store.records.station()).toBeNull();
    expect(() => store.records.nextShot()).toThrow("the ledger is empty");
    store.close();
  });
});

describe("what contradicts the record is refused", () => {
  it.each<[string, (store: ReturnType<typeof openLab>, specimen: string) => unknown, string]>([
    [
      "a specimen received twice",
      (store, specimen) =>
        store.ledger.append(
          "specimen-received",
          { specimen, details: { label: "new", ratedAmps: 1, poles: 1, volts: 1 } },
          origin,
        ),
      "was received already",
    ],
    ["a label used twice", (store) => receive(store, "A"), "the label A is taken by specimen"],
    [
      "a shot on an unknown specimen",
      (store) => openShot(store, "X", { kind: "as-found" }),
      "X was never received",
    ],
    [
      "a shot opened twice",
      (store, specimen) => {
        const shot = openShot(store, specimen);
        closeShot(store, shot);
        store.ledger.append("shot-opened", openedBody(store, shot, 1, specimen), origin);
      },
      "was opened already",
    ],
    [
      "a shot on a specimen that is still under another",
      (store, specimen) => {
        openShot(store, specimen);
        openShot(store, specimen);
      },
      "is still under shot",
    ],
    [
      "a shot closed twice",
      (store, specimen) => {
        const shot = openShot(store, specimen);
        closeShot(store, shot);
        closeShot(store, shot);
      },
      "was closed already by entry",
    ],
    [
      "a later shot called as found",
      (store, specimen) => {
        closeShot(store, openShot(store, specimen));
        openShot(store, specimen, { kind: "as-found" });
      },
      "is as found; the record says exercised, 1 operations",
    ],
    [
      "operations left out",
      (store, specimen) => {
        store.ledger.append("handle-moved", { specimen, operations: 4, note: "" }, origin);
        openShot(store, specimen, { kind: "exercised", operations: 1 });
      },
      "exercised, 1 operations; the record says exercised, 4 operations",
    ],
    [
      "a handle moved less than once",
      (store, specimen) => store.ledger.append("handle-moved", { specimen, operations: 0, note: "" }, origin),
      "1 or more; found 0",
    ],
  ])("%s", (_, action, words) => {
    const store = openLab();
    const specimen = receive(store, "A");
    expect(() => action(store, specimen)).toThrow(words);
    expect(store.compareProjections()).toEqual({ same: true });
    store.close();
  });
});

describe("projections", () => {
  it("equal a rebuild after every entry, and stay the same when rebuilt", () => {
    const store = openLab();
    fillLab(store);
    openShot(store, receive(store, "last"));
    expect(store.compareProjections()).toEqual({ same: true });
    const before = [store.records.specimens(), store.records.shots(), store.records.station()];
    store.rebuildProjections();
    expect([store.records.specimens(), store.records.shots(), store.records.station()]).toEqual(before);
    expect(store.compareProjections()).toEqual({ same: true });
    store.close();
  });

  it.each([
    ["DELETE FROM specimens WHERE label = 'A-2'", "row 2 of the projection specimens"],
    ["UPDATE shots SET result = 'pass'", "row 2 of the projection shots"],
    ["UPDATE stations SET demo = 1", "row 1 of the projection stations"],
    ["INSERT INTO stations VALUES ('X', 2, 'k', 'l', 0, 'now')", "row 2 of the projection stations"],
  ])("are found to differ after %s, and are right again when rebuilt", (statement, words) => {
    const store = openLab();
    fillLab(store);
    store.close();
    const raw = new Database(join(store.dataDir, "asfound.sqlite"));
    raw.exec(statement);
    raw.close();
    const again = openStore(store.dataDir);
    expect(again.compareProjections()).toEqual({ same: false, difference: expect.stringContaining(words) });
    again.rebuildProjections();
    expect(again.compareProjections()).toEqual({ same: true });
    again.close();
  });

  it("of another version are rebuilt when opened for writing, and refused when opened for reading", () => {
    const store = openLab();
    fillLab(store);
    const before = store.records.shots();
    store.close();
    const raw = new Database(join(store.dataDir, "asfound.sqlite"));
    raw.exec("UPDATE store_facts SET value = '0'; DROP TABLE shots; CREATE TABLE shots (old TEXT)");
    raw.close();
    expect(() => openStore(store.dataDir, { readOnly: true })).toThrow("open the store once for writing");
    const again = openStore(store.dataDir);
    expect(again.records.shots()).toEqual(before);
    again.close();
  });
});
