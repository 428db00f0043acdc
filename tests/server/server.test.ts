import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { FastifyInstance } from "fastify";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";

const address = "emulated?breaker=sound&speed=400&seed=5";
let folder: string;
let lab: Lab;
let desk: BenchDesk;
let app: FastifyInstance;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "asfound-server-"));
  lab = openLab(folder, { lab: "test lab", demo: false });
  desk = new BenchDesk(lab, address);
  app = await buildServer({ lab, desk, seeding: new Seeding() });
  await desk.connect(address);
});
afterAll(async () => {
  await desk.close();
  await app.close();
  lab.store.close();
  rmSync(folder, { recursive: true, force: true });
});

const headers = { host: "127.0.0.1" };
const get = (url: string) => app.inject({ method: "GET", url, headers });
const post = (url: string, payload: object) => app.inject({ method: "POST", url, headers, payload });

describe("the server", () => {
  it("runs a shot from the request to the record", async () => {
    const received = await post("/api/specimens", { label: "S-1", ratedAmps: 20, poles: 1, volts: 120 });
    expect(received.statusCode).toBe(201);
    const { id } = received.json();
    const programme = (await get(`/api/specimens/${id}/programme`)).json();
    expect(
      programme.map((step: { point: { row: { multiple: number } } }) => step.point.row.multiple),
    ).toEqual([2, 1.35, 1]);

    const closed = new Promise<{ shot: string }>((settle) => {
      const leave = desk.listen((message) => {
        if (message.kind !== "closed") return;
        leave();
        settle(message);
      });
    });
    const started = await post("/api/shots", {
      ...{
        specimen: id,
        limitSet: "ul-489-calibration",
        multiple: 2,
        loading: "pole-1",
        confirmedSafe: true,
      },
    });
    expect(started.statusCode).toBe(202);
    const { shot } = started.json();
    expect((await get("/api/shots/current")).json()).toMatchObject({ id: shot });
    const second = await post("/api/shots", {
      ...{
        specimen: id,
        limitSet: "ul-489-calibration",
        multiple: 2,
        loading: "pole-1",
        confirmedSafe: true,
      },
    });
    expect(second.statusCode).toBe(409);
    expect(second.json().detail).toContain("only one runs at a time");

    expect((await closed).shot).toBe(shot);
    const view = (await get(`/api/shots/${shot}`)).json();
    expect(view.closed.body.verdict.result).toBe("pass");
    expect(view.provenance.length).toBeGreaterThan(5);
    const trace = (await get(`/api/shots/${shot}/trace?points=500`)).json();
    expect(trace.seconds.length).toBeLessThanOrEqual(500);
    expect(trace.samples).toBe(view.closed.body.samples);
    expect((await get(`/api/shots?specimen=${id}`)).json()).toHaveLength(1);
  });

  it("stops a shot: current off, and the record says interrupted", async () => {
    const { id } = (
      await post("/api/specimens", { label: "S-2", ratedAmps: 20, poles: 1, volts: 120 })
    ).json();
    const { shot } = (
      await post("/api/shots", {
        ...{
          specimen: id,
          limitSet: "ul-489-calibration",
          multiple: 1,
          loading: "pole-1",
          confirmedSafe: true,
        },
      })
    ).json();
    await new Promise((settle) => setTimeout(settle, 300));
    expect((await post("/api/stop", {})).statusCode).toBe(204);
    const view = (await get(`/api/shots/${shot}`)).json();
    expect(view.closed.body.hostEnd).toBe("operator");
    expect(view.closed.body.reading.outcome).toBe("interrupted");
    expect(view.closed.body.verdict.result).toBe("undetermined");
    expect(desk.rig().state).toBe("safe");
  });

  it.each([
    ["no rating", { label: "x", poles: 1, volts: 120 }, "ratedAmps"],
    ["a rating below zero", { label: "x", ratedAmps: -1, poles: 1, volts: 120 }, "ratedAmps"],
    ["a rating in words", { label: "x", ratedAmps: "20", poles: 1, volts: 120 }, "ratedAmps"],
    ["an unknown field", { label: "x", ratedAmps: 20, poles: 1, volts: 120, colour: "grey" }, "colour"],
    ["a label that is taken", { label: "S-1", ratedAmps: 20, poles: 1, volts: 120 }, "label"],
  ])("refuses a specimen with %s, naming the field, and stores nothing", async (_what, body, field) => {
    const before = lab.store.ledger.head().sequence;
    const answer = await post("/api/specimens", body);
    expect(answer.statusCode).toBe(400);
    expect(answer.headers["content-type"]).toContain("application/problem+json");
    expect(answer.json().fields.map((one: { field: string }) => one.field)).toContain(field);
    expect(lab.store.ledger.head().sequence).toBe(before);
  });

  it("does not start a test on an unconfirmed caution, an unknown set, or a multiple without a row", async () => {
    const good = { specimen: "nobody", limitSet: "ul-489-calibration", multiple: 2, loading: "pole-1" };
    expect((await post("/api/shots", good)).statusCode).toBe(400);
    expect((await post("/api/shots", { ...good, confirmedSafe: false })).statusCode).toBe(400);
    expect((await post("/api/shots", { ...good, confirmedSafe: true })).statusCode).toBe(404);
    const [specimen] = lab.store.records.specimens();
    const known = { ...good, confirmedSafe: true, specimen: specimen?.specimen };
    expect((await post("/api/shots", { ...known, limitSet: "made-up" })).json().detail).toContain(
      "ul-489-calibration",
    );
    expect((await post("/api/shots", { ...known, multiple: 2.5 })).json().detail).toContain("2, 1.35 and 1");
    expect((await post("/api/shots", { ...known, loading: "pole-3" })).json().detail).toContain("pole");
    expect(desk.current()).toBeNull();
  });

  it("answers loopback only, and no other page", async () => {
    const foreign = await app.inject({ method: "GET", url: "/api/lab", headers: { host: "bench.example" } });
    expect(foreign.statusCode).toBe(403);
    const other = await app.inject({
      method: "POST",
      url: "/api/stop",
      headers: { ...headers, origin: "http://elsewhere.example" },
    });
    expect(other.statusCode).toBe(403);
  });

  it("tells in problem documents what is not there", async () => {
    for (const url of ["/api/shots/none", "/api/specimens/none", "/api/nothing"]) {
      const answer = await get(url);
      expect(answer.statusCode, url).toBe(404);
      expect(answer.json(), url).toMatchObject({ status: 404, title: "Not found" });
    }
  });

  it("describes itself as OpenAPI", async () => {
    const description = (await get("/api/openapi.json")).json();
    expect(description.openapi).toBe("3.1.0");
    expect(Object.keys(description.paths)).toEqual(
      expect.arrayContaining(["/api/lab", "/api/specimens", "/api/shots", "/api/stop", "/api/live"]),
    );
  });
});
