import type { FastifyInstance } from "fastify";
import { afterAll, beforeAll, expect, it } from "vitest";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import { defaultPolicy } from "../../src/lab/policy.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";
import { measuringLab } from "../lab/measuring-lab.ts";

let place: ReturnType<typeof measuringLab>;
let app: FastifyInstance;
beforeAll(async () => {
  place = measuringLab();
  app = await buildServer({
    lab: place.lab,
    desk: new BenchDesk(place.lab, "emulated"),
    seeding: new Seeding(),
  });
});
afterAll(async () => {
  await app.close();
  place.remove();
});

const headers = { host: "127.0.0.1" };
const get = async (url: string) => (await app.inject({ method: "GET", url, headers })).json();
const send = (method: "POST" | "PUT", url: string, payload: object) =>
  app.inject({ method, url, headers, payload });

it("rows are confirmed, and limit sets say so", async () => {
  const url = "/api/limits/ul-489-calibration/confirmations";
  const body = { document: "UL 489", edition: "invented", by: "N. N.", rows: ["200-to-30"] };
  const made = await send("POST", url, body);
  expect(made.statusCode).toBe(201);
  expect(made.json()).toMatchObject({ confirmed: false, confirmedRows: ["200-to-30"] });
  expect(await get(url)).toMatchObject([{ by: "N. N.", on: "2026-06-15", holds: true }]);
  expect(await get("/api/limits/ul-489-calibration")).toMatchObject({ confirmedRows: ["200-to-30"] });
  expect((await get("/api/limits"))[0]).toHaveProperty("confirmedRows");
  expect((await send("POST", url, { ...body, rows: ["x"] })).statusCode).toBe(400);
  expect((await send("POST", url, { ...body, by: undefined })).statusCode).toBe(400);
});

it("a band is added and listed, and a crossing one refused", async () => {
  const band = {
    id: "invented",
    title: "invented",
    source: { document: "invented" },
    current: "multiple",
    minimum: [
      [1.5, 10],
      [3, 5],
    ],
    maximum: [
      [1.5, 100],
      [3, 50],
    ],
  };
  const made = await send("POST", "/api/bands", band);
  expect(made.statusCode).toBe(201);
  expect(await get("/api/bands")).toEqual([made.json()]);
  const crossed = await send("POST", "/api/bands", {
    ...band,
    id: "other",
    minimum: band.maximum,
    maximum: band.minimum,
  });
  expect(crossed.statusCode).toBe(400);
  expect(crossed.json().fields[0]).toMatchObject({ field: "minimum[0]" });
  expect(await get("/api/bands")).toHaveLength(1);
});

it("a certificate is recorded and listed with what it is today", async () => {
  const record = {
    ...{ instrument: "invented rig", serial: "R-1", quantity: "current", certificate: "C-1" },
    ...{ issuer: "invented", on: "2026-01-01", due: "2026-06-01", expandedPercent: 0.5, k: 2 },
  };
  expect((await send("POST", "/api/calibrations", record)).statusCode).toBe(201);
  expect(await get("/api/calibrations")).toMatchObject([{ record: { points: [] }, state: "past due" }]);
  expect((await send("POST", "/api/calibrations", { ...record, k: 0 })).statusCode).toBe(400);
});

it("the policy is read and decided anew, whole", async () => {
  expect(await get("/api/policy")).toEqual(defaultPolicy);
  const policy = { ...defaultPolicy, precedence: "table first" };
  expect((await send("PUT", "/api/policy", policy)).json()).toEqual(policy);
  expect(await get("/api/policy")).toEqual(policy);
  expect((await send("PUT", "/api/policy", { precedence: "table first" })).statusCode).toBe(400);
});

it("a shot with r below zero is refused by its form", async () => {
  const shot = {
    ...{ specimen: "x", limitSet: "ul-489-calibration", multiple: 2, loading: "pole-1" },
    ...{ confirmedSafe: true, rule: { kind: "guard", r: -1 } },
  };
  const refused = await send("POST", "/api/shots", shot);
  expect(refused.statusCode).toBe(400);
  expect(refused.json().detail).toContain("rule");
});
