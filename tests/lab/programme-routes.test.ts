import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";
import { RecordedLab } from "./recorded-lab.ts";

let place: RecordedLab;
beforeEach(() => {
  place = new RecordedLab();
});
afterEach(() => place.remove());

describe("resources of programmes", () => {
  it("lock, plan, next, matrix and fit of a specimen", async () => {
    const specimen = place.receive();
    const { lab } = place;
    const desk = new BenchDesk(lab, "emulated");
    const app = await buildServer({ lab, desk, seeding: new Seeding() });
    const get = async (path: string) =>
      (await app.inject({ url: `/api${path}`, headers: { host: "localhost" } })).json();
    const post = (body: object) =>
      app.inject({
        method: "POST",
        url: `/api/specimens/${specimen}/programme`,
        headers: { host: "localhost" },
        payload: body,
      });
    try {
      expect((await get("/programmes")).map((one: { name: string }) => one.name)).toContain("as-found first");
      expect(await get(`/specimens/${specimen}/plan`)).toMatchObject({ lock: null, steps: [] });
      const lock = { programme: "limit set", limitSet: "ul-489-calibration", rule: { kind: "simple" } };
      expect((await post({ ...lock, rule: { kind: "lenient" } })).statusCode).toBe(400);
      expect((await post({ ...lock, programme: "all" })).json().detail).toContain("accepted");
      const locked = await post(lock);
      expect(locked.statusCode).toBe(201);
      expect(locked.json()).toMatchObject({ lock: { programme: "limit set", amends: null }, done: 0 });
      expect((await post({ ...lock, limitSet: "w-c-375e" })).statusCode).toBe(400);
      expect((await get("/next")).specimens).toMatchObject([{ specimen, allowed: true, done: 0 }]);
      const shot = place.shot(specimen, { at: 0, multiple: 2, seconds: 50 });
      expect((await get(`/specimens/${specimen}/plan`)).steps[0]).toMatchObject({ state: "done", shot });
      expect(await get(`/specimens/${specimen}/matrix`)).toMatchObject({
        multiples: [2],
        loadings: ["pole-1"],
        parts: [{ state: "as-found", cells: [[{ shot, result: "pass" }]] }],
      });
      expect((await get(`/specimens/${specimen}/fit`)).groups[0]).toMatchObject({
        loading: "pooled",
        shots: [shot],
      });
      expect((await get("/specimens/nobody/matrix")).status).toBe(404);
    } finally {
      await app.close();
      await desk.close();
    }
  });
});
