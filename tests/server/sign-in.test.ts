import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { FastifyInstance } from "fastify";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Role } from "../../src/contract/ledger-entries.ts";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { giveRoles } from "../../src/lab/people.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";
import { verifyStore } from "../../src/store/verify-store.ts";

const address = "emulated?breaker=sound&speed=400&seed=5";
const password = "correct horse battery";
let folder: string;
let lab: Lab;
let desk: BenchDesk;
let app: FastifyInstance;
let now: Date;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "asfound-sign-in-"));
  now = new Date("2026-03-02T08:00:00Z");
  lab = { ...openLab(folder), now: () => now };
  desk = new BenchDesk(lab, address);
  app = await buildServer({ lab, desk, seeding: new Seeding() });
});
afterEach(async () => {
  await desk.close();
  await app.close();
  lab.store.close();
  rmSync(folder, { recursive: true, force: true });
});

const know = (person: string, roles: Role[]) =>
  giveRoles(lab, { person, roles, password, by: "Ada Rivers" }, "people");
const ask = (method: "GET" | "POST" | "PUT", url: string, payload?: object, cookie?: string) =>
  app.inject({
    ...{ method, url, headers: { host: "127.0.0.1", ...(cookie === undefined ? {} : { cookie }) } },
    ...(payload === undefined ? {} : { payload }),
  });
async function signIn(person: string): Promise<string> {
  const answer = await ask("POST", "/api/session", { person, password });
  expect(answer.statusCode).toBe(201);
  const [cookie] = answer.cookies;
  return `${cookie?.name}=${cookie?.value}`;
}
const specimen = (label: string) => ({ label, ratedAmps: 20, poles: 1, volts: 120 });
const custody = (id: string) => ({
  about: { kind: "specimen", id },
  ...{ event: "receipt", from: "Site", to: "Lab", observedAt: "2026-03-01T08:00:00Z" },
});

describe("a lab that knows nobody", () => {
  it("asks for no sign-in, and its names are typed", async () => {
    expect((await ask("GET", "/api/session")).json()).toMatchObject({ demanded: false, person: null });
    expect((await ask("POST", "/api/specimens", specimen("S-1"))).statusCode).toBe(201);
  });

  it("asks for it from the first person on", async () => {
    const first = { person: "Ada Rivers", roles: ["administrator"], password, by: "Ada Rivers" };
    expect((await ask("POST", "/api/people", first)).statusCode).toBe(201);
    expect((await ask("GET", "/api/people")).statusCode).toBe(401);
    expect((await ask("GET", "/api/session")).json()).toMatchObject({ demanded: true, person: null });
  });
});

describe("a lab that knows people", () => {
  beforeEach(async () => {
    await know("Ada Rivers", ["administrator"]);
    await know("Ben Hollis", ["operator"]);
    await know("Cleo Marsh", ["reviewer"]);
    await know("Dov Lind", ["viewer"]);
  });

  it("answers nobody who is not signed in, but for the session, the description and the stop", async () => {
    const open: string[] = [];
    const { paths } = (await ask("GET", "/api/openapi.json")).json();
    for (const [path, methods] of Object.entries(paths as Record<string, object>))
      for (const method of Object.keys(methods)) {
        const url = path.replaceAll(/\{\w+\}/g, "x");
        const answer = await ask(method.toUpperCase() as "GET", url, method === "get" ? undefined : {});
        if (answer.statusCode !== 401) open.push(`${method} ${path}`);
      }
    expect(Object.keys(paths).length).toBeGreaterThan(60);
    // POST /api/session itself answers 400 to an empty body.
    expect(open.sort()).toEqual([
      "get /api/session",
      "post /api/session",
      "post /api/session/end",
      "post /api/stop",
    ]);
  });

  it("answers each role what it needs, and no more", async () => {
    const tries = {
      viewer: ["GET", "/api/specimens"],
      operator: ["POST", "/api/specimens"],
      reviewer: ["POST", "/api/reviews"],
      administrator: ["PUT", "/api/policy"],
    } as const;
    for (const [person, role] of [
      ["Ada Rivers", "administrator"],
      ["Ben Hollis", "operator"],
      ["Cleo Marsh", "reviewer"],
      ["Dov Lind", "viewer"],
    ] as const) {
      const cookie = await signIn(person);
      for (const [needed, [method, url]] of Object.entries(tries)) {
        const answer = await ask(method, url, method === "GET" ? undefined : {}, cookie);
        if (needed === role || needed === "viewer") expect(answer.statusCode).not.toBe(403);
        else {
          expect(answer.statusCode).toBe(403);
          expect(answer.json().detail).toBe(`This needs the role ${needed}; ${person} has ${role}`);
        }
      }
    }
  });

  it("signs entries with the person signed in, and lets nobody sign for another", async () => {
    const cookie = await signIn("Ben Hollis");
    const { id } = (await ask("POST", "/api/specimens", specimen("S-1"), cookie)).json();
    const forged = await ask("POST", "/api/custody", { ...custody(id), by: "Ada Rivers" }, cookie);
    expect(forged.statusCode).toBe(403);
    expect(forged.json().detail).toContain("nobody signs for another");
    expect((await ask("POST", "/api/custody", custody(id), cookie)).statusCode).toBe(201);
    const made = [...lab.store.ledger.entries()].slice(-2);
    const [signedIn] = [...lab.store.ledger.entries({ kind: "signed-in" })];
    expect(made.map(({ kind, actor, signIn }) => [kind, actor, signIn])).toEqual([
      ["specimen-received", "Ben Hollis", signedIn?.sequence],
      ["custody-moved", "Ben Hollis", signedIn?.sequence],
    ]);
    expect(verifyStore(folder).problems).toEqual([]);
  });

  it("signs photographs too, whose name stands in the query", async () => {
    const cookie = await signIn("Ben Hollis");
    await ask("POST", "/api/specimens", specimen("S-1"), cookie);
    const answer = await app.inject({
      ...{ method: "POST", url: "/api/photographs?kind=specimen&id=x&name=a.png&shows=seal&by=Ada%20Rivers" },
      ...{ headers: { host: "127.0.0.1", cookie, "content-type": "image/png" }, payload: Buffer.from("x") },
    });
    expect(answer.statusCode).toBe(403);
  });

  it("lets one operator drive the bench at a time, until it is given back or the session ends or falls silent", async () => {
    await know("Eve Storr", ["operator"]);
    const [ben, eve] = [await signIn("Ben Hollis"), await signIn("Eve Storr")];
    const connect = (cookie: string) => ask("POST", "/api/rig/connect", { address }, cookie);
    expect((await connect(ben)).statusCode).toBe(200);
    const refused = await connect(eve);
    expect(refused.statusCode).toBe(409);
    expect(refused.json().detail).toContain("Ben Hollis drives the bench");
    expect((await ask("GET", "/api/session", undefined, eve)).json().bench).toMatchObject({ mine: false });
    await ask("POST", "/api/session/bench/give-back", undefined, eve);
    expect((await connect(eve)).statusCode).toBe(409);
    await ask("POST", "/api/session/bench/give-back", undefined, ben);
    expect((await connect(eve)).statusCode).toBe(200);
    await ask("POST", "/api/session/end", undefined, eve);
    expect((await connect(ben)).statusCode).toBe(200);
    now = new Date(now.getTime() + 16 * 60_000);
    expect((await connect(await signIn("Eve Storr"))).statusCode).toBe(200);
  });

  it("ends sessions with the sign-out, after a working day, with a new password and with new roles", async () => {
    const stillIn = async (cookie: string) =>
      (await ask("GET", "/api/session", undefined, cookie)).json().person !== null;
    const [first, second] = [await signIn("Ben Hollis"), await signIn("Ben Hollis")];
    expect(await stillIn(first)).toBe(true);
    await ask("POST", "/api/session/end", undefined, first);
    expect(await stillIn(first)).toBe(false);
    const changed = { old: password, new: "another long password" };
    const third = await signIn("Ben Hollis");
    expect((await ask("POST", "/api/session/password", changed, third)).statusCode).toBe(200);
    expect(await stillIn(second)).toBe(false);
    expect(await stillIn(third)).toBe(true);
    const ada = await signIn("Ada Rivers");
    const out = { person: "Ben Hollis", roles: [], why: "left the lab" };
    expect((await ask("POST", "/api/people", out, ada)).statusCode).toBe(201);
    expect(await stillIn(third)).toBe(false);
    now = new Date(now.getTime() + 12 * 3600_000);
    expect(await stillIn(ada)).toBe(false);
  });

  it("hands out a cookie that scripts and other sites cannot use", async () => {
    const [cookie] = (await ask("POST", "/api/session", { person: "Dov Lind", password })).cookies;
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: "Strict", path: "/" });
  });

  it("tells a wrong name and a wrong password alike, and slows down guessing", async () => {
    const wrong = await ask("POST", "/api/session", { person: "Dov Lind", password: "not the password" });
    const nobody = await ask("POST", "/api/session", { person: "No One", password });
    expect(wrong.statusCode).toBe(401);
    expect(nobody.json()).toEqual(wrong.json());
    const later = [];
    for (let i = 0; i < 9; i += 1)
      later.push((await ask("POST", "/api/session", { person: "Dov Lind", password: "x" })).statusCode);
    expect(later.at(-1)).toBe(429);
  });
});
