import type { FastifyInstance } from "fastify";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { BenchDesk } from "../../src/lab/bench-desk.ts";
import { loadLimitLibrary } from "../../src/lab/limit-library.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";
import type { Store } from "../../src/store/open-store.ts";
import { openLab, specimenWith } from "../lab/rates-lab.ts";

let store: Store;
let server: FastifyInstance;
beforeEach(async () => {
  store = openLab();
  specimenWith(store, "A", ["pass"], { poles: 2 });
  specimenWith(store, "B", ["never"]);
  const lab = { store, limits: loadLimitLibrary(), now: () => new Date(), actor: "tester" };
  server = await buildServer({ lab, desk: {} as BenchDesk, seeding: new Seeding() });
});
afterEach(async () => {
  await server.close();
  store.close();
});

const get = async (url: string) => {
  const answer = await server.inject({ url, headers: { host: "localhost" } });
  return { status: answer.statusCode, text: answer.body, type: String(answer.headers["content-type"]) };
};

describe("what the page asks for", () => {
  it("rates, specimens, times, margins, plans, places and panels", async () => {
    const rates = await get("/api/rates?by=poles&point=2&state=any&confidence=0.9");
    expect(rates.status).toBe(200);
    expect(JSON.parse(rates.text).rows).toHaveLength(2);
    for (const url of [
      "/api/rates/specimens",
      "/api/trip-times?by=poles",
      "/api/margins",
      "/api/studies",
      "/api/plan",
      "/api/plan/width?confidence=0.95&rate=0.2&half-width=0.1",
      "/api/place?N=40&tested=12&failed=2",
      "/api/panel?onePole=16&twoPole=4&fromLab=true",
    ])
      expect([url, (await get(url)).status]).toEqual([url, 200]);
    expect((await get("/api/rates.csv")).type).toContain("text/csv");
    for (const url of ["/api/rates.svg", "/api/trip-times.svg", "/api/margins.svg"])
      expect([url, (await get(url)).type]).toEqual([url, "image/svg+xml"]);
  });

  it("imports studies and pools them", async () => {
    const csv = `study,year,stratum,criterion,multiple,tested,failed,selection,citation
A,1990,all,c,2,20,3,unknown,invented
B,1991,all,c,2,30,2,unknown,invented
C,1992,all,c,2,40,9,unknown,invented
`;
    const post = () =>
      server.inject({
        method: "POST",
        url: "/api/studies",
        headers: { host: "localhost" },
        payload: { csv, name: "s.csv" },
      });
    expect((await post()).statusCode).toBe(201);
    expect((await post()).statusCode).toBe(400);
    expect(JSON.parse((await get("/api/pool?model=reml&by=criterion")).text).rows).toHaveLength(3);
    expect(JSON.parse((await get("/api/pool/compare")).text)).toHaveLength(6);
    expect((await get("/api/pool/forest.svg?withLab=true")).text).toContain("<svg");
    expect((await get("/api/pool/funnel.svg")).text).toContain("<svg");
  });

  it.each([
    "/api/rates?by=colour",
    "/api/rates?confidence=2",
    "/api/rates?colour=1",
    "/api/rates.svg?point=3",
    "/api/pool",
    "/api/plan/guess",
    "/api/plan/shown?confidence=0.9&tested=0",
    "/api/place?N=4&tested=5&failed=0",
    "/api/panel?onePole=0&twoPole=0",
  ])("refuses %s with a problem document", async (url) => {
    const { status, type } = await get(url);
    expect([status, type.split(";")[0]]).toEqual([400, "application/problem+json"]);
  });
});
