import { spawn } from "node:child_process";
import { copyFileSync, existsSync, statSync, truncateSync } from "node:fs";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { describe, expect, it } from "vitest";
import { openStore } from "../../src/store/open-store.ts";
import { verifyStore } from "../../src/store/verify-store.ts";
import { closeShot, fillLab, newFolder, openLab } from "./small-lab.ts";

/** A process that appends without end to `folder`; vite runs its TypeScript. */
function startAppending(folder: string) {
  const script = join(import.meta.dirname, "append-without-end.ts");
  const run = `import { runnerImport } from "vite"; await runnerImport(${JSON.stringify(script)}, { configFile: false });`;
  const child = spawn(process.execPath, ["--input-type=module", "-e", run], {
    cwd: import.meta.dirname,
    env: { ...process.env, STORE_FOLDER: folder },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let errors = "";
  child.stderr.on("data", (data) => {
    errors += data;
  });
  const ended = new Promise<string>((done) => child.on("close", () => done(errors)));
  return { child, lines: createInterface({ input: child.stdout }), ended };
}

/** What the process acknowledged until it was killed, at the `count`-th acknowledgement. */
async function killedAfter(folder: string, count: number): Promise<string[]> {
  const { child, lines, ended } = startAppending(folder);
  const acknowledged: string[] = [];
  lines.on("line", (line) => {
    acknowledged.push(line);
    if (acknowledged.length === count) child.kill("SIGKILL");
  });
  const errors = await ended;
  if (acknowledged.length < count) throw new Error(`the process ended by itself: ${errors}`);
  return acknowledged;
}

describe("a process killed while it writes", () => {
  it("loses nothing that was acknowledged, and the chain verifies", async () => {
    const folder = newFolder();
    for (const count of [3, 17, 30]) {
      const acknowledged = await killedAfter(folder, count);
      expect(verifyStore(folder)).toMatchObject({ ok: true, problems: [] });
      const store = openStore(folder);
      for (const line of acknowledged) {
        const [what, name = "", value] = line.split(" ");
        if (what === "entry") expect(store.ledger.entry(Number(name))?.hash).toBe(value);
        else expect(store.blocks.facts(name).samples).toBeGreaterThanOrEqual(Number(value));
      }
      expect(store.compareProjections()).toEqual({ same: true });
      for (const { shot } of store.records.openShots()) closeShot(store, shot, null);
      expect(store.records.openShots()).toEqual([]);
      store.close();
    }
    expect(verifyStore(folder).ok).toBe(true);
  });

  it("holds off another writer while it lives, and none once it is dead", async () => {
    const folder = newFolder();
    const { child, lines, ended } = startAppending(folder);
    await new Promise((started) => lines.once("line", started));
    expect(() => openStore(folder)).toThrow("another process is writing");
    expect(verifyStore(folder)).toMatchObject({ ok: true, problems: [] });
    const reader = openStore(folder, { readOnly: true });
    expect(reader.ledger.head().sequence).toBeGreaterThan(0);
    reader.close();
    child.kill("SIGKILL");
    await ended;
    openStore(folder).close();
  });
});

describe("a write-ahead log cut off anywhere, as by a loss of power", () => {
  it("leaves a sound beginning of the ledger", () => {
    const store = openLab();
    fillLab(store);
    const whole = [...store.ledger.entries()];
    const files = ["asfound.sqlite", "asfound.sqlite-wal"];
    const length = statSync(join(store.dataDir, "asfound.sqlite-wal")).size;
    const lengthsFound = new Set<number>();
    for (let step = 0; step <= 12; step += 1) {
      const copy = newFolder();
      for (const file of files) copyFileSync(join(store.dataDir, file), join(copy, file));
      copyFileSync(join(store.dataDir, "station-key.pem"), join(copy, "station-key.pem"));
      truncateSync(join(copy, "asfound.sqlite-wal"), Math.floor((length * step) / 12));
      const writable = openStore(copy);
      const kept = [...writable.ledger.entries()];
      writable.close();
      expect(kept).toEqual(whole.slice(0, kept.length));
      if (kept.length > 0) expect(verifyStore(copy)).toMatchObject({ ok: true, entries: kept.length });
      lengthsFound.add(kept.length);
      expect(existsSync(join(copy, "asfound.sqlite"))).toBe(true);
    }
    expect(lengthsFound.size).toBeGreaterThan(5);
    expect(lengthsFound.has(whole.length)).toBe(true);
    store.close();
  });
});
