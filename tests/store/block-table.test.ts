import { createHash } from "node:crypto";
import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { closedBody, closeShot, fillLab, openLab, openShot, origin, receive, wave } from "./small-lab.ts";

describe("block table", () => {
  it("gives back a shot's signal with contiguous blocks joined", () => {
    const store = openLab();
    const shot = openShot(store, receive(store, "A"));
    const all = wave(600, 1);
    const writer = store.blocks.writer(shot);
    writer.event({ atUs: 900, kind: "onset" });
    for (let i = 0; i < 600; i += 60) {
      if (i === 300) continue;
      writer.samples({ firstEndUs: 1000 + i * 16667, stepUs: 16667, milliamps: all.slice(i, i + 60) });
      writer.flush();
    }
    // Asked for again, it arrives late.
    writer.samples({ firstEndUs: 1000 + 300 * 16667, stepUs: 16667, milliamps: all.slice(300, 360) });
    writer.raw({ window: "opening", firstAtUs: 9_900_000, stepNs: 50_000, milliamps: wave(200, 2) });
    writer.raw({ window: "onset", firstAtUs: 800, stepNs: 50_000, milliamps: wave(200, 3) });
    writer.event({ atUs: 10_000_000, kind: "off", why: "opened" });
    writer.event({ atUs: 9_990_000, kind: "opening" });
    writer.close();
    const signal = store.blocks.readSignal(shot);
    expect(signal.runs).toEqual([{ firstEndUs: 1000, stepUs: 16667, milliamps: all }]);
    expect(signal.events.map((event) => event.kind)).toEqual(["onset", "opening", "off"]);
    expect(signal.raw.map((one) => one.window)).toEqual(["onset", "opening"]);
    expect(store.blocks.facts(shot)).toMatchObject({ samples: 600, blocks: 15 });
    store.close();
  });

  it("has the hash that a stranger computes from the rows", () => {
    const store = openLab();
    const { shots } = fillLab(store);
    for (const shot of shots) {
      const hash = createHash("sha256");
      for (const { kind, payload } of store.blocks.stored(shot)) {
        const frame = Buffer.alloc(5);
        frame.writeUInt8(kind);
        frame.writeUInt32BE(payload.length, 1);
        hash.update(frame).update(payload);
      }
      expect(store.blocks.facts(shot).samplesHash).toBe(hash.digest("hex"));
      expect(store.records.shot(shot)?.closed?.body.samplesHash).toBe(store.blocks.facts(shot).samplesHash);
    }
    store.close();
  });

  it("refuses blocks of a shot that is unknown or closed, and a writer for an unknown one", () => {
    const store = openLab();
    const shot = openShot(store, receive(store, "A"));
    const block = { kind: "event", event: { atUs: 1, kind: "onset" } } as const;
    store.blocks.append(shot, [block]);
    closeShot(store, shot);
    expect(() => store.blocks.append(shot, [block])).toThrow(`shot ${shot} is closed`);
    expect(() => store.blocks.append("X", [block])).toThrow("no shot X was opened");
    expect(() => store.blocks.writer("X")).toThrow("no shot X was opened");
    expect(() => store.blocks.readSignal("X")).toThrow("no shot X was opened");
    expect(store.blocks.facts(shot).blocks).toBe(1);
    store.close();
  });

  it("stores all blocks of one call or none", () => {
    const store = openLab();
    const shot = openShot(store, receive(store, "A"));
    expect(() =>
      store.blocks.append(shot, [
        { kind: "event", event: { atUs: 1, kind: "onset" } },
        { kind: "samples", run: { firstEndUs: 1, stepUs: 0, milliamps: wave(3, 1) } },
      ]),
    ).toThrow(RangeError);
    expect(store.blocks.stored(shot)).toEqual([]);
    store.close();
  });

  it("refuses a closing entry that does not match the stored blocks", () => {
    const store = openLab();
    const shot = openShot(store, receive(store, "A"));
    const early = closedBody(store, shot, 3);
    store.blocks.append(shot, [
      { kind: "samples", run: { firstEndUs: 1, stepUs: 1, milliamps: wave(3, 1) } },
    ]);
    expect(() => store.ledger.append("shot-closed", early, origin)).toThrow(
      `closing shot ${shot} with samples 0; the stored blocks have 3`,
    );
    closeShot(store, shot);
    store.close();
  });

  it.each([
    ["UPDATE sample_blocks SET payload = x'00'", "never updated"],
    ["DELETE FROM sample_blocks", "never deleted"],
    [
      "INSERT INTO sample_blocks SELECT shot, MAX(number) + 1, 3, x'00' FROM sample_blocks",
      "the shot is closed",
    ],
    ["INSERT INTO sample_blocks VALUES (1, 1, 3, x'00')", "belong to a shot"],
    ["INSERT INTO sample_blocks VALUES (999, 1, 3, x'00')", "belong to a shot"],
    [
      "INSERT OR REPLACE INTO sample_blocks SELECT shot, 1, 3, x'00' FROM sample_blocks LIMIT 1",
      "the shot is closed",
    ],
  ])("is guarded in the database itself: %s", (statement, words) => {
    const store = openLab();
    const shot = openShot(store, receive(store, "A"));
    store.blocks.append(shot, [{ kind: "event", event: { atUs: 1, kind: "onset" } }]);
    closeShot(store, shot);
    store.close();
    const raw = new Database(join(store.dataDir, "asfound.sqlite"));
    expect(() => raw.exec(statement)).toThrow(words);
    raw.close();
  });
});
