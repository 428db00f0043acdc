import {
  chmodSync,
  copyFileSync,
  cpSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { genesisHash } from "../../src/core/evidence/ledger-chain.ts";
import { makeVerifier } from "../../src/store/passwords.ts";
import { verifyStore } from "../../src/store/verify-store.ts";
import { fillLab, newFolder, openLab, openShot, wave } from "./small-lab.ts";

const database = "asfound.sqlite";
let sound = "";
let head = "";
let entries = 0;
let shots: string[] = [];

beforeAll(async () => {
  const store = openLab();
  ({ shots } = fillLab(store));
  store.passwords.set("Ada Rivers", await makeVerifier("a long enough password"), { actor: "Ada Rivers" });
  // One shot left open, as by a crash.
  const open = openShot(store, store.records.specimens()[1]?.specimen ?? "");
  store.blocks.append(open, [{ kind: "samples", run: { firstEndUs: 1, stepUs: 1, milliamps: wave(9, 1) } }]);
  ({ hash: head, sequence: entries } = store.ledger.head());
  store.close();
  sound = store.dataDir;
});

/** A copy of the sound store after `alter` was done to its database by other means than the store's. */
function altered(alter: (raw: Database.Database) => void): string {
  const folder = newFolder();
  cpSync(sound, folder, { recursive: true });
  const raw = new Database(join(folder, database));
  for (const name of raw.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").pluck().all())
    raw.exec(`DROP TRIGGER ${String(name)}`);
  raw.pragma("foreign_keys = OFF");
  alter(raw);
  raw.close();
  return folder;
}

/** Puts a flipped bit into one value of a row. */
function flip(raw: Database.Database, table: string, column: string, where: string, place = 0): void {
  const row = raw.prepare<[], { value: string | Buffer; id: number }>(
    `SELECT rowid AS id, ${column} AS value FROM ${table} WHERE ${where}`,
  );
  const { value, id } = row.get() ?? { value: "", id: 0 };
  const bytes = Buffer.from(value as string);
  bytes[place % bytes.length] = (bytes[place % bytes.length] ?? 0) ^ 1;
  raw
    .prepare(`UPDATE ${table} SET ${column} = ? WHERE rowid = ?`)
    .run(typeof value === "string" ? bytes.toString("latin1") : bytes, id);
}

describe("verifyStore()", () => {
  it("finds a sound store sound, and changes nothing in it", () => {
    const before = readFileSync(join(sound, database));
    expect(verifyStore(sound)).toEqual({ ok: true, entries, head, problems: [] });
    expect(verifyStore(sound, { knownHead: head }).ok).toBe(true);
    expect(readFileSync(join(sound, database)).equals(before)).toBe(true);
  });

  it("accepts a copy without the secret key, and a key that others can read", () => {
    const folder = newFolder();
    cpSync(sound, folder, { recursive: true });
    chmodSync(join(folder, "station-key.pem"), 0o644);
    expect(verifyStore(folder).ok).toBe(true);
    rmSync(join(folder, "station-key.pem"));
    expect(verifyStore(folder).ok).toBe(true);
  });

  it.each(["station", "at", "actor", "kind", "body", "previous", "hash", "signature"])(
    "names the entry where one bit of %s was flipped",
    (column) => {
      for (const sequence of [2, 7, entries]) {
        const found = verifyStore(
          altered((raw) => flip(raw, "ledger", column, `sequence = ${sequence}`, 13)),
        );
        expect(found.ok).toBe(false);
        expect(found.problems[0]).toContain(`entry ${sequence}`);
      }
    },
  );

  it.each<[string, (raw: Database.Database) => void, string]>([
    [
      "re-dated",
      (raw) => raw.exec("UPDATE ledger SET at = '2020-01-01T00:00:00.000Z' WHERE sequence = 5"),
      "entry 5",
    ],
    ["signed in", (raw) => raw.exec("UPDATE ledger SET sign_in = 3 WHERE sequence = 5"), "entry 5"],
    ["deleted", (raw) => raw.exec("DELETE FROM ledger WHERE sequence = 5"), "entry 5 "],
    [
      "deleted at the beginning",
      (raw) => raw.exec("DELETE FROM ledger WHERE sequence = 1"),
      "the first entry is",
    ],
    [
      "moved",
      (raw) =>
        raw.exec(`UPDATE ledger SET sequence = -5 WHERE sequence = 5; UPDATE ledger SET sequence = 5 WHERE sequence = 6;
                  UPDATE ledger SET sequence = 6 WHERE sequence = -5`),
      "entry 5 follows",
    ],
    [
      "inserted",
      (raw) =>
        raw.exec(`UPDATE ledger SET sequence = -sequence WHERE sequence >= 5;
                  UPDATE ledger SET sequence = 1 - sequence WHERE sequence < 0;
                  INSERT INTO ledger SELECT 5, station, at, actor, kind, body, previous, 'x', signature, sign_in
                  FROM ledger WHERE sequence = 4`),
      "entry 5 ",
    ],
    [
      "given another reading by a name used twice",
      (raw) =>
        raw.exec(
          `UPDATE ledger SET body = '{"operations":9,' || substr(body, 2) WHERE kind = 'handle-moved'`,
        ),
      'the name "operations" appears twice',
    ],
    [
      "spaced out",
      (raw) => raw.exec(`UPDATE ledger SET body = replace(body, ',', ', ') WHERE sequence = 3`),
      "the body of entry 3 was altered",
    ],
  ])("names an entry that was %s", (_, alter, words) => {
    const found = verifyStore(altered(alter));
    expect(found.ok).toBe(false);
    expect(found.problems[0]).toContain(words);
  });

  it("finds the last entry deleted, by the projections or by a known head", () => {
    const folder = altered((raw) => {
      raw.exec("DELETE FROM sample_blocks WHERE shot = (SELECT MAX(sequence) FROM ledger)");
      raw.exec("DELETE FROM ledger WHERE sequence = (SELECT MAX(sequence) FROM ledger)");
    });
    expect(verifyStore(folder).problems[0]).toContain("projection");
    expect(verifyStore(folder, { knownHead: head }).problems[0]).toContain(
      `no entry has the known head ${head}`,
    );
  });

  it("names shot or block where a byte of the samples was changed", () => {
    for (const [place, where] of [
      [0, "number = 2"],
      [9, "number = 2"],
      [30, "number = 4"],
      [3, "number = 3"],
      [8, "number = 1"],
    ] as const) {
      const folder = altered((raw) =>
        flip(
          raw,
          "sample_blocks",
          "payload",
          `${where} AND shot = (SELECT sequence FROM ledger WHERE shot = '${shots[1]}')`,
          place,
        ),
      );
      const found = verifyStore(folder);
      expect(found.ok).toBe(false);
      expect(found.problems[0]).toContain(`shot ${shots[1]}`);
    }
  });

  it.each<[string, string, string]>([
    ["a block gone from the middle", "DELETE FROM sample_blocks WHERE number = 3", "block 3 of shot"],
    ["a block gone from the end", "DELETE FROM sample_blocks WHERE number = 6", "blocks is 5, entry"],
    [
      "blocks exchanged",
      `UPDATE sample_blocks SET number = -2 WHERE number = 2; UPDATE sample_blocks SET number = 2 WHERE number = 4;
       UPDATE sample_blocks SET number = 4 WHERE number = -2`,
      "samplesHash is",
    ],
    ["the kind of a block changed", "UPDATE sample_blocks SET kind = 2 WHERE number = 2", "block 2 of shot"],
    [
      "a block of no shot",
      "INSERT INTO sample_blocks VALUES (1, 1, 1, x'00')",
      "entry 1, which opens no shot",
    ],
    ["a projection changed", "UPDATE shots SET result = 'pass'", "of the projection shots"],
    ["a projection gone", "DROP TABLE specimens", "no such table: specimens"],
    ["another table", "CREATE TABLE other (a)", "table other is not of this program"],
    ["a trigger dropped", "SELECT 1", "trigger ledger_appends_only is missing"],
  ])("names %s", (_, statement, words) => {
    const found = verifyStore(altered((raw) => raw.exec(statement)));
    expect(found.ok).toBe(false);
    expect(found.problems.join("\n")).toContain(words);
  });

  it("finds a ledger that was written anew as a whole with another key", () => {
    const forger = openLab();
    fillLab(forger);
    forger.close();
    const folder = newFolder();
    cpSync(sound, folder, { recursive: true });
    copyFileSync(join(forger.dataDir, database), join(folder, database));
    expect(verifyStore(folder).problems[0]).toContain("but the ledger was signed by");
  });

  it.each<[string, (path: string) => void]>([
    ["is missing", (path) => rmSync(path)],
    ["is empty", (path) => truncateSync(path, 0)],
    ["is cut to a header", (path) => truncateSync(path, 600)],
    ["is cut in half", (path) => truncateSync(path, Math.floor(statSync(path).size / 2))],
    ["lacks its last page", (path) => truncateSync(path, statSync(path).size - 4096)],
    ["is something else", (path) => writeFileSync(path, "x".repeat(9000))],
  ])("reports, and does not throw, where the database %s", (_, damage) => {
    const folder = newFolder();
    cpSync(sound, folder, { recursive: true });
    damage(join(folder, database));
    const found = verifyStore(folder);
    expect(found).toMatchObject({ ok: false, entries: 0, head: genesisHash });
    expect(found.problems[0]).toContain(folder);
  });

  it("reports a store that is not there, and a key file that is no key", () => {
    expect(verifyStore(join(newFolder(), "nowhere")).problems[0]).toContain("does not exist");
    const folder = newFolder();
    cpSync(sound, folder, { recursive: true });
    writeFileSync(join(folder, "station-key.pem"), "no key");
    expect(verifyStore(folder).problems[0]).toContain("not a readable key");
  });

  it("never calls a store sound in which any bit of the file was flipped and any record with it", () => {
    // Without a shot left open: the blocks of such a shot have no hash in the ledger yet.
    const store = openLab();
    fillLab(store);
    store.close();
    const folder = store.dataDir;
    const original = readFileSync(join(folder, database));
    const recordsIn = (folder: string) => {
      const raw = new Database(join(folder, database), { readonly: true });
      const rows = [
        raw.prepare("SELECT * FROM ledger ORDER BY sequence").all(),
        raw.prepare("SELECT shot, number, kind, hex(payload) FROM sample_blocks ORDER BY shot, number").all(),
      ];
      raw.close();
      return JSON.stringify(rows);
    };
    const expected = recordsIn(folder);
    let noticed = 0;
    fc.assert(
      fc.property(fc.nat(original.length - 1), fc.nat(7), (place, bit) => {
        const bytes = Buffer.from(original);
        bytes[place] = (bytes[place] ?? 0) ^ (1 << bit);
        writeFileSync(join(folder, database), bytes);
        for (const rest of ["-wal", "-shm"]) rmSync(join(folder, database + rest), { force: true });
        const found = verifyStore(folder);
        if (found.ok) expect(recordsIn(folder)).toBe(expected);
        else noticed += 1;
      }),
      { numRuns: 300 },
    );
    expect(noticed).toBeGreaterThan(100);
  });
});
