import {
  chmodSync,
  copyFileSync,
  cpSync,
  existsSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { stationId } from "../../src/core/evidence/station-id.ts";
import { openStore } from "../../src/store/open-store.ts";
import { StoreError, type StoreErrorCode } from "../../src/store/store-error.ts";
import { fillLab, newFolder, openLab, origin } from "./small-lab.ts";

/** The code and message with which `action` is refused. */
function refusal(action: () => unknown): { code: StoreErrorCode; message: string } {
  try {
    action();
  } catch (error) {
    if (error instanceof StoreError) return { code: error.code, message: error.message };
    throw error;
  }
  throw new Error("was not refused");
}

describe("openStore()", () => {
  it("makes a folder with a database and a key for its owner's eyes only", () => {
    const folder = join(newFolder(), "deep", "data");
    const store = openStore(folder);
    expect(existsSync(join(folder, "asfound.sqlite"))).toBe(true);
    expect(statSync(join(folder, "writer.lock")).size).toBe(0);
    expect(statSync(join(folder, "station-key.pem")).mode & 0o777).toBe(0o600);
    expect(readFileSync(join(folder, "station-key.pem"), "utf8")).toContain("BEGIN PRIVATE KEY");
    expect(store.station).toBe(stationId(store.publicKey));
    expect(store.ledger.head()).toEqual({ sequence: 0, hash: "0".repeat(64) });
    store.close();
  });

  it("finds everything again after closing", () => {
    const store = openLab();
    fillLab(store);
    const before = [...store.ledger.entries()];
    store.close();
    const again = openStore(store.dataDir);
    expect([...again.ledger.entries()]).toEqual(before);
    expect(again.station).toBe(store.station);
    again.close();
  });

  it("writes ahead", () => {
    const store = openLab();
    store.close();
    const header = readFileSync(join(store.dataDir, "asfound.sqlite"));
    // Bytes 18 and 19 of an SQLite header are 2 for a database that writes ahead (sqlite.org/fileformat, 1.3.3).
    expect([header[18], header[19]]).toEqual([2, 2]);
  });

  it("refuses a second writer, lets readers in, and frees the place on closing", () => {
    const store = openLab();
    expect(refusal(() => openStore(store.dataDir))).toMatchObject({
      code: "busy",
      message: expect.stringContaining("another process is writing"),
    });
    const reader = openStore(store.dataDir, { readOnly: true });
    expect(reader.ledger.head()).toEqual(store.ledger.head());
    store.ledger.append(
      "specimen-received",
      { specimen: "X", details: { label: "X", ratedAmps: 15, poles: 1, volts: 120 } },
      origin,
    );
    expect(reader.records.specimen("X")?.details.ratedAmps).toBe(15);
    reader.close();
    store.close();
    openStore(store.dataDir).close();
  });

  it("refuses every write through a store opened for reading", () => {
    const store = openLab();
    const { shots } = fillLab(store);
    store.close();
    const reader = openStore(store.dataDir, { readOnly: true });
    expect(refusal(() => reader.openStation({ lab: "x", demo: false }, origin)).code).toBe("read-only");
    expect(refusal(() => reader.blocks.append(shots[0] ?? "", [])).code).toBe("read-only");
    expect(refusal(() => reader.rebuildProjections()).code).toBe("read-only");
    reader.close();
  });

  it("has nothing to read where nothing was made, and makes nothing then", () => {
    const folder = newFolder();
    expect(refusal(() => openStore(folder, { readOnly: true })).code).toBe("missing");
    expect(existsSync(join(folder, "asfound.sqlite"))).toBe(false);
  });

  it.each([
    ["an empty file", (path: string) => truncateSync(path, 0), "cut off"],
    ["a few bytes", (path: string) => truncateSync(path, 60), "cut off"],
    [
      "half of the file",
      (path: string) => truncateSync(path, Math.floor(statSync(path).size / 2)),
      "cut off",
    ],
    [
      "another kind of file",
      (path: string) => writeFileSync(path, "Not a database. ".repeat(500)),
      "not an SQLite",
    ],
    [
      "a database of someone else",
      (path: string) => {
        rmSync(path);
        new Database(path).exec("CREATE TABLE a (b)").close();
      },
      "not one that this program made",
    ],
  ])("names the damage where the database is %s, for writing and reading", (_, damage, words) => {
    const store = openLab();
    fillLab(store);
    store.close();
    damage(join(store.dataDir, "asfound.sqlite"));
    for (const readOnly of [false, true]) {
      const { code, message } = refusal(() => openStore(store.dataDir, { readOnly }));
      expect(code).toBe("damaged");
      expect(message).toContain(words);
      expect(message).toContain("asfound.sqlite");
    }
  });

  it("reads a medium that cannot be written to, unless part of the ledger would be left out", () => {
    const store = openLab(join(newFolder(), "odd name #1?&50%"));
    fillLab(store);
    const copy = join(newFolder(), "with log #2?&50%");
    cpSync(store.dataDir, copy, { recursive: true });
    const head = store.ledger.head();
    store.close();
    for (const folder of [store.dataDir, copy]) {
      // A link to nowhere keeps SQLite from making the file that readers share, as a read-only medium does.
      rmSync(join(folder, "asfound.sqlite-shm"), { force: true });
      symlinkSync(join(folder, "nowhere", "shm"), join(folder, "asfound.sqlite-shm"));
    }
    const reader = openStore(store.dataDir, { readOnly: true });
    expect(reader.ledger.head()).toEqual(head);
    reader.close();
    expect(refusal(() => openStore(copy, { readOnly: true })).message).toContain("write-ahead log");
  });

  it("does not begin a new ledger where the database of an existing key is gone", () => {
    const store = openLab();
    store.close();
    rmSync(join(store.dataDir, "asfound.sqlite"));
    expect(refusal(() => openStore(store.dataDir)).message).toContain("restore the database");
  });

  it("refuses a key that others can read, and takes it once it is closed to them", () => {
    const store = openLab();
    store.close();
    const path = join(store.dataDir, "station-key.pem");
    chmodSync(path, 0o644);
    expect(refusal(() => openStore(store.dataDir))).toMatchObject({
      code: "key",
      message: expect.stringContaining("mode 644"),
    });
    chmodSync(path, 0o600);
    openStore(store.dataDir).close();
  });

  it("refuses a key that is missing, damaged, or another station's", () => {
    const store = openLab();
    store.close();
    const stranger = openLab();
    stranger.close();
    const path = join(store.dataDir, "station-key.pem");
    copyFileSync(join(stranger.dataDir, "station-key.pem"), path);
    chmodSync(path, 0o600);
    expect(refusal(() => openStore(store.dataDir)).message).toContain("was signed by");
    writeFileSync(path, "nothing");
    expect(refusal(() => openStore(store.dataDir)).message).toContain("not a readable key");
    rmSync(path);
    expect(refusal(() => openStore(store.dataDir))).toMatchObject({
      code: "key",
      message: expect.stringContaining("is missing"),
    });
    expect(existsSync(path)).toBe(false);
  });

  it("does not build on a newest entry that was altered", () => {
    const store = openLab();
    store.close();
    const raw = new Database(join(store.dataDir, "asfound.sqlite"));
    raw.exec("DROP TRIGGER ledger_never_updated; UPDATE ledger SET actor = 'someone else'");
    raw.close();
    expect(refusal(() => openStore(store.dataDir))).toMatchObject({
      code: "damaged",
      message: expect.stringContaining("newest entry, 1, was altered"),
    });
  });
});
