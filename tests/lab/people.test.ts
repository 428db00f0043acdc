import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { changePassword, giveRoles, peopleOf, rolesOf, signIn } from "../../src/lab/people.ts";

let folder: string;
let lab: Lab;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "asfound-people-"));
  lab = openLab(folder);
});
afterEach(() => {
  lab.store.close();
  rmSync(folder, { recursive: true, force: true });
});

const password = "correct horse battery";
const give = (person: string, roles: string[], more: object = {}) =>
  giveRoles(lab, { person, roles, by: "Ada Rivers", ...more }, "people");

describe("giveRoles()", () => {
  it("knows everybody with the newest roles, and keeps the old ones in the ledger", async () => {
    await give("Ada Rivers", ["administrator"], { password });
    await give("Ben Hollis", ["reviewer", "operator"], { password, why: "new in the lab" });
    await give("Ben Hollis", ["reviewer"]);
    expect(peopleOf(lab)).toMatchObject([
      { person: "Ada Rivers", roles: ["administrator"], hasPassword: true, by: "Ada Rivers" },
      { person: "Ben Hollis", roles: ["reviewer"], hasPassword: true },
    ]);
    expect(rolesOf(lab, "Ben Hollis")).toEqual(["reviewer"]);
    expect(rolesOf(lab, "Cleo Marsh")).toEqual([]);
    const given = [...lab.store.ledger.entries({ kind: "roles-given" })].map((one) => one.body.roles);
    expect(given).toEqual([["administrator"], ["operator", "reviewer"], ["reviewer"]]);
  });

  it("writes no password anywhere in the ledger", async () => {
    await give("Ada Rivers", ["administrator"], { password });
    const verifier = lab.store.passwords.verifier("Ada Rivers") ?? "";
    const text = JSON.stringify([...lab.store.ledger.entries()]);
    expect(text).not.toContain(password);
    expect(text).not.toContain(verifier);
  });

  it.each([
    [
      "a first person who is no administrator",
      "Ada Rivers",
      ["operator"],
      { password },
      "the first person is an administrator",
    ],
    ["nobody's password", "Ada Rivers", ["administrator"], {}, "password: is missing"],
    ["a short password", "Ada Rivers", ["administrator"], { password: "short" }, "password"],
    ["an unknown role", "Ada Rivers", ["boss"], { password }, "roles"],
  ])("refuses %s and stores nothing", async (_what, person, roles, more, words) => {
    await expect(give(person, roles, more)).rejects.toThrow(words);
    expect(peopleOf(lab)).toEqual([]);
    expect(lab.store.passwords.verifier(person)).toBeNull();
  });

  it("refuses to leave the lab without an administrator, and names that can be mistaken", async () => {
    await give("Ada Rivers", ["administrator"], { password });
    await expect(give("Ada Rivers", ["operator"])).rejects.toThrow("one person stays an administrator");
    await expect(give("Ada Rivers", [])).rejects.toThrow("one person stays an administrator");
    await expect(give("ada  rivers", ["operator"], { password })).rejects.toThrow(
      'can be taken for "Ada Rivers"',
    );
    await give("Ben Hollis", ["administrator"], { password });
    await give("Ada Rivers", []);
    expect(rolesOf(lab, "Ada Rivers")).toEqual([]);
  });
});

describe("signIn()", () => {
  beforeEach(async () => {
    await give("Ada Rivers", ["administrator"], { password });
  });

  it("is an entry of the ledger, made by the person", async () => {
    const signedIn = await signIn(lab, { person: "Ada Rivers", password }, "sign-in");
    expect(lab.store.ledger.entry(signedIn?.sequence ?? 0)).toMatchObject({
      ...{ kind: "signed-in", actor: "Ada Rivers", body: { person: "Ada Rivers" } },
    });
  });

  it.each([
    ["another password", "Ada Rivers", "correct horse buttery"],
    ["an unknown name", "Ben Hollis", password],
  ])("is refused with %s, and leaves no entry", async (_what, person, tried) => {
    const before = lab.store.ledger.head().sequence;
    expect(await signIn(lab, { person, password: tried }, "sign-in")).toBeNull();
    expect(lab.store.ledger.head().sequence).toBe(before);
  });

  it("is refused to who was shut out", async () => {
    await give("Ben Hollis", ["administrator"], { password });
    await give("Ada Rivers", []);
    expect(await signIn(lab, { person: "Ada Rivers", password }, "sign-in")).toBeNull();
  });

  it("follows a change of the password, for which the old one is needed", async () => {
    const ada = { ...lab, actor: "Ada Rivers" };
    const next = "another long password";
    await expect(changePassword(ada, { old: "wrong", new: next }, "password")).rejects.toThrow(
      "not your password",
    );
    await changePassword(ada, { old: password, new: next }, "password");
    expect(await signIn(lab, { person: "Ada Rivers", password }, "sign-in")).toBeNull();
    expect(await signIn(lab, { person: "Ada Rivers", password: next }, "sign-in")).not.toBeNull();
  });
});
