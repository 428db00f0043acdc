import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { entryHash } from "../../src/core/evidence/ledger-chain.ts";
import { makeVerifier, matchesVerifier } from "../../src/store/passwords.ts";
import { verifyStore } from "../../src/store/verify-store.ts";
import { newFolder, openLab, origin, receive } from "./small-lab.ts";

const body = (lab = openLab(), specimen = receive(lab, "S-1")) => ({ specimen, operations: 1, note: "" });

describe("an entry made under a sign-in", () => {
  it("names the sign-in, and its hash covers that", () => {
    const lab = openLab();
    const specimen = receive(lab, "S-1");
    const { sequence } = lab.ledger.append("signed-in", { person: "Ada Rivers" }, { actor: "Ada Rivers" });
    const entry = lab.ledger.append("handle-moved", body(lab, specimen), {
      ...{ actor: "Ada Rivers", signIn: sequence },
    });
    expect(entry.signIn).toBe(sequence);
    expect(entry.hash).toBe(entryHash(entry));
    const { signIn: _, ...without } = entry;
    expect(entryHash(without)).not.toBe(entry.hash);
    expect(lab.ledger.entry(entry.sequence)).toEqual(entry);
    const { dataDir } = lab;
    lab.close();
    expect(verifyStore(dataDir).problems).toEqual([]);
  });

  it("leaves entries without one as they were: no field at all", () => {
    const lab = openLab();
    receive(lab, "S-1");
    expect(lab.ledger.entry(2)).not.toHaveProperty("signIn");
  });

  it.each([
    ["no entry", 99, "Ada Rivers", "which is not before it"],
    ["another kind of entry", 1, "Ada Rivers", "of kind station-opened"],
    ["another person's", 3, "Ben Hollis", "by which Ada Rivers did"],
  ])("is refused where the sign-in is %s", (_what, signIn, actor, words) => {
    const lab = openLab();
    const specimen = receive(lab, "S-1");
    lab.ledger.append("signed-in", { person: "Ada Rivers" }, { actor: "Ada Rivers" });
    expect(() => lab.ledger.append("handle-moved", body(lab, specimen), { actor, signIn })).toThrow(words);
    expect(lab.ledger.head().sequence).toBe(3);
  });
});

describe("passwords", () => {
  it("match themselves and nothing else, however they are composed, and no password at all matches nobody", async () => {
    const verifier = await makeVerifier("caf\u00e9 by the river");
    expect(verifier).not.toContain("river");
    expect(await matchesVerifier("cafe\u0301 by the river", verifier)).toBe(true);
    expect(await matchesVerifier("cafe by the river", verifier)).toBe(false);
    expect(await matchesVerifier("", null)).toBe(false);
    expect(await makeVerifier("caf\u00e9 by the river")).not.toBe(verifier);
  });

  it.each([
    ["exchanged", "UPDATE passwords SET verifier = 'scrypt$1$1$1$AA==$AA=='", "is not the one that was set"],
    ["taken away", "DELETE FROM passwords", "is missing"],
    ["added", "INSERT INTO passwords VALUES ('Ben Hollis', 'x')", "Ben Hollis was put there"],
  ])("that were %s by hand are found", async (_what, sql, words) => {
    const lab = openLab(newFolder());
    lab.passwords.set("Ada Rivers", await makeVerifier("a long enough password"), origin);
    const { dataDir } = lab;
    lab.close();
    expect(verifyStore(dataDir).problems).toEqual([]);
    const raw = new Database(join(dataDir, "asfound.sqlite"));
    raw.exec(sql);
    raw.close();
    expect(verifyStore(dataDir).problems.join()).toContain(words);
  });

  it("are set together with their digest in the ledger, or not at all", async () => {
    const lab = openLab();
    const verifier = await makeVerifier("a long enough password");
    expect(() => lab.passwords.set("Ada Rivers", verifier, { actor: " " })).toThrow("names its actor");
    expect(lab.passwords.verifier("Ada Rivers")).toBeNull();
    expect(lab.ledger.head().sequence).toBe(1);
  });
});
