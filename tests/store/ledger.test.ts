import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { entryHash, verifyChain } from "../../src/core/evidence/ledger-chain.ts";
import { openStore } from "../../src/store/open-store.ts";
import { fillLab, newFolder, openLab, origin, receive } from "./small-lab.ts";

const details = { label: "B", ratedAmps: 20, poles: 1, volts: 120 } as const;

describe("ledger", () => {
  it("is a chain, signed with the station's key from its first entry on", () => {
    const store = openLab();
    fillLab(store);
    const entries = [...store.ledger.entries()];
    expect(entries[0]).toMatchObject({
      sequence: 1,
      kind: "station-opened",
      station: store.station,
      body: { publicKey: store.publicKey, station: store.station },
      previous: "0".repeat(64),
    });
    expect(verifyChain(entries, store.publicKey)).toEqual({
      ok: true,
      entries: entries.length,
      head: store.ledger.head().hash,
    });
    expect(store.ledger.head().sequence).toBe(entries.length);
    store.close();
  });

  it("returns the entry as it can be read again", () => {
    const store = openLab();
    const entry = store.ledger.append("specimen-received", { specimen: "B", details }, origin);
    expect(store.ledger.entry(entry.sequence)).toEqual(entry);
    expect(entry.hash).toBe(entryHash(entry));
    expect(store.ledger.entry(99)).toBeNull();
    store.close();
  });

  it("dates entries by the clock it was given, in UTC with milliseconds, or as told", () => {
    const store = openStore(newFolder(), { now: () => new Date(Date.UTC(2025, 5, 1, 12, 0, 0, 7)) });
    store.openStation({ lab: "L", demo: false }, origin);
    const at = "2020-02-29T00:00:00.000Z";
    store.ledger.append("specimen-received", { specimen: "B", details }, { actor: "x", at });
    expect([...store.ledger.entries()].map((entry) => entry.at)).toEqual(["2025-06-01T12:00:00.007Z", at]);
    store.close();
  });

  it("gives entries after a sequence and of one kind", () => {
    const store = openLab();
    fillLab(store);
    const all = [...store.ledger.entries()];
    expect([...store.ledger.entries({ since: 3 })]).toEqual(all.slice(3));
    expect([...store.ledger.entries({ kind: "shot-closed" })]).toEqual(
      all.filter((entry) => entry.kind === "shot-closed"),
    );
    expect([...store.ledger.entries({ since: all.length })]).toEqual([]);
    store.close();
  });

  it("can be appended to while its entries are read", () => {
    const store = openLab();
    for (let i = 0; i < 300; i += 1) receive(store, `L${i}`);
    let seen = 0;
    for (const entry of store.ledger.entries()) {
      seen += 1;
      if (entry.sequence === 2) receive(store, "meanwhile");
    }
    expect(seen).toBe(302);
    store.close();
  });

  it("appends several entries or none", () => {
    const store = openLab();
    const before = store.ledger.head();
    const good = { kind: "specimen-received", body: { specimen: "B", details } } as const;
    const bad = { kind: "handle-moved", body: { specimen: "unknown", operations: 1, note: "" } } as const;
    expect(() => store.ledger.appendAll([good, bad], origin)).toThrow("specimen unknown was never received");
    expect(store.ledger.head()).toEqual(before);
    expect(store.records.specimens()).toEqual([]);
    expect(store.ledger.appendAll([good], origin)).toHaveLength(1);
    store.close();
  });

  it("refuses what no ledger can hold, and keeps nothing of it", () => {
    const store = openLab();
    const before = store.ledger.head();
    const append = (body: object, from: { actor: string; at?: string } = origin) =>
      store.ledger.append("specimen-received", body as never, from);
    expect(() => append({ specimen: "B", details: { ...details, volts: Number.NaN } })).toThrow(
      "$.details.volts is NaN",
    );
    expect(() => append({ specimen: "B", details: { ...details, notes: undefined } })).toThrow("undefined");
    expect(() => append({ specimen: "B", details }, { actor: " " })).toThrow("names its actor");
    for (const at of ["2025-01-31", "2025-01-31T08:00:00Z", "2025-01-31T09:00:00.000+01:00", "soon"])
      expect(() => append({ specimen: "B", details }, { actor: "x", at })).toThrow(`found ${at}`);
    expect(store.ledger.head()).toEqual(before);
    store.close();
  });

  it("begins with the opening of its own station, once", () => {
    const store = openStore(newFolder());
    const { station, publicKey } = store;
    expect(() => store.ledger.append("specimen-received", { specimen: "B", details }, origin)).toThrow(
      "first entry is station-opened",
    );
    const body = { station, publicKey, lab: "L", demo: false };
    expect(() =>
      store.ledger.append("station-opened", { ...body, publicKey: "0".repeat(64) }, origin),
    ).toThrow("the key here is");
    store.ledger.append("station-opened", body, origin);
    expect(() => store.openStation({ lab: "L", demo: false }, origin)).toThrow("opened already");
    store.close();
  });

  it.each([
    ["UPDATE ledger SET actor = 'x' WHERE sequence = 2", "never updated"],
    ["DELETE FROM ledger WHERE sequence = 2", "never deleted"],
    [
      "INSERT INTO ledger SELECT 99, station, at, actor, kind, body, hash, 'x', signature, sign_in FROM ledger WHERE sequence = 3",
      "does not follow its head",
    ],
    [
      "INSERT OR REPLACE INTO ledger SELECT 2, station, at, actor, kind, body, hash, 'x', signature, sign_in FROM ledger WHERE sequence = 1",
      "does not follow its head",
    ],
  ])("is guarded in the database itself: %s", (statement, words) => {
    const store = openLab();
    fillLab(store);
    store.close();
    const raw = new Database(join(store.dataDir, "asfound.sqlite"));
    expect(() => raw.exec(statement)).toThrow(words);
    raw.close();
  });
});
