import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { sha256Hex } from "../../src/core/evidence/sha256-hex.ts";
import { migrate, migrations, newestVersion, versionOf } from "../../src/store/migrations/migrate.ts";
import { openStore } from "../../src/store/open-store.ts";
import { newFolder, openLab } from "./small-lab.ts";

/** Hash of each shipped migration. A line here is never changed, only added to: shipped migrations are frozen. */
const shipped: readonly [string, string][] = [
  ["001-ledger", "b06da5bc475230460ac29cbb1acc58885fa7b7ab09279f80d0faaa744d292b5d"],
  ["002-sample-blocks", "5a247839ddd054cf988be5ba0c0cbb0423eeaa0c344f05eb9656aa2b0be40f51"],
];

describe("migrations", () => {
  it("are those that were shipped, unchanged, and perhaps newer ones", () => {
    const found = migrations.map(({ name, sql }) => [name, sha256Hex(sql)]);
    expect(found.slice(0, shipped.length)).toEqual(shipped);
    expect(found.map(([name]) => name?.slice(0, 3))).toEqual(
      migrations.map((_, i) => String(i + 1).padStart(3, "0")),
    );
  });

  it("take an empty file to the newest version, and a newest one nowhere", () => {
    const database = new Database(join(newFolder(), "a.sqlite"));
    migrate(database);
    expect(versionOf(database)).toBe(newestVersion);
    migrate(database);
    expect(versionOf(database)).toBe(newestVersion);
    expect(database.pragma("integrity_check", { simple: true })).toBe("ok");
    database.close();
  });

  it("go on from wherever a database stands", () => {
    for (let version = 0; version < newestVersion; version += 1) {
      const database = new Database(":memory:");
      migrate(database, migrations.slice(0, version));
      expect(versionOf(database)).toBe(version);
      migrate(database);
      expect(versionOf(database)).toBe(newestVersion);
      database.close();
    }
  });

  it("leave nothing behind of a step that failed, and keep the steps before it", () => {
    const database = new Database(":memory:");
    const steps = [
      { name: "001", sql: "CREATE TABLE a (x)" },
      { name: "002", sql: "CREATE TABLE b (x); INSERT INTO nowhere VALUES (1)" },
    ];
    expect(() => migrate(database, steps)).toThrow("nowhere");
    expect(versionOf(database)).toBe(1);
    expect(database.prepare("SELECT name FROM sqlite_schema").pluck().all()).toEqual(["a"]);
    database.close();
  });

  it("refuse a database of a newer program, for writing and reading, and leave it as it was", () => {
    const store = openLab();
    store.close();
    const path = join(store.dataDir, "asfound.sqlite");
    const raw = new Database(path);
    raw.pragma(`user_version = ${newestVersion + 1}`);
    raw.close();
    for (const readOnly of [false, true])
      expect(() => openStore(store.dataDir, { readOnly })).toThrow(
        `version ${newestVersion + 1}; this program knows versions up to ${newestVersion}`,
      );
    const after = new Database(path);
    expect(versionOf(after)).toBe(newestVersion + 1);
    after.close();
  });
});
