import type { FastifyInstance } from "fastify";
import { afterAll, beforeAll, expect, it } from "vitest";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";
import { measuringLab, specimen } from "../lab/measuring-lab.ts";
import { jpegWithPlaces, secret } from "../lab/pictures.ts";

let place: ReturnType<typeof measuringLab>;
let app: FastifyInstance;
let id = "";
beforeAll(async () => {
  place = measuringLab();
  app = await buildServer({
    lab: place.lab,
    desk: new BenchDesk(place.lab, "emulated"),
    seeding: new Seeding(),
  });
  id = (await post("/api/specimens", { ...specimen, job: "J 1" })).json().id;
});
afterAll(async () => {
  await app.close();
  place.remove();
});

const headers = { host: "127.0.0.1" };
const get = (url: string) => app.inject({ method: "GET", url, headers });
const post = (url: string, payload: object) => app.inject({ method: "POST", url, headers, payload });
const by = "N. N.";

it("a job is opened and shown with its specimens; a second of the name is refused", async () => {
  const job = { job: "J 1", site: "invented", on: "2026-06-01", by };
  expect((await post("/api/jobs", job)).statusCode).toBe(201);
  expect((await get("/api/jobs/J%201")).json()).toMatchObject({ opened: { by }, specimens: [{ id }] });
  expect((await get("/api/jobs")).json()).toHaveLength(1);
  expect((await post("/api/jobs", job)).statusCode).toBe(400);
  const refused = await post("/api/jobs", { ...job, job: "../J" });
  expect(refused.statusCode).toBe(400);
  expect(refused.json().fields[0].field).toBe("job");
  expect((await get("/api/jobs/none")).statusCode).toBe(404);
});

it("custody is recorded and shown with its gaps", async () => {
  const event = {
    ...{ about: { kind: "specimen", id }, event: "receipt", from: "A", to: "Lab" },
    ...{ observedAt: "2026-06-15T10:00:00Z", by },
  };
  expect((await post("/api/custody", event)).statusCode).toBe(201);
  const next = { ...event, event: "testing", from: "Store", to: "Bench", observedAt: "2026-06-15T11:00:00Z" };
  expect((await post("/api/custody", next)).statusCode).toBe(201);
  expect((await get(`/api/specimens/${id}/custody`)).json()).toMatchObject({
    holder: "Bench",
    remarks: [{ kind: "gap" }],
  });
  expect((await get("/api/jobs/J%201/custody")).json().lines).toEqual([]);
  expect((await post("/api/custody", { ...event, about: { kind: "job", id: "none" } })).statusCode).toBe(404);
});

it("a photograph is sent as bytes, given back as it is, and published without places", async () => {
  const bytes = Buffer.from(jpegWithPlaces());
  const send = (payload: Buffer | string, more = "", type = "image/jpeg") =>
    app.inject({
      method: "POST",
      url: `/api/photographs?kind=specimen&id=${id}&name=front.jpg&shows=as%20received&by=N.${more}`,
      headers: { ...headers, "content-type": type },
      payload,
    });
  const made = await send(bytes);
  expect(made.statusCode).toBe(201);
  const { photograph } = made.json().record;
  const original = await get(`/api/photographs/${photograph}`);
  expect(original.rawPayload.equals(bytes)).toBe(true);
  expect(original.headers["content-type"]).toBe("image/jpeg");
  const published = await get(`/api/photographs/${photograph}/published`);
  expect(published.rawPayload.includes(secret)).toBe(false);
  expect((await get(`/api/photographs?kind=specimen&id=${id}`)).json()).toHaveLength(1);
  expect((await send(Buffer.from("no picture"))).json().detail).toContain("is not a picture");
  expect((await send("no picture", "", "text/plain")).statusCode).toBe(400);
  expect((await send(bytes, "&colour=red")).statusCode).toBe(400);
  expect((await send(Buffer.alloc(40_000_001))).statusCode).toBe(413);
  expect((await get("/api/photographs/..%2Fasfound.sqlite")).statusCode).toBe(404);
  expect(place.lab.store.ledger.head().sequence).toBe(made.json().sequence);
});

it("the gate is shown, passed once there is nothing missing, and asked by the policy", async () => {
  const policy = (await get("/api/policy")).json();
  const gate = { ...policy.gate, authority: "demanded" };
  const put = await app.inject({ method: "PUT", url: "/api/policy", headers, payload: { ...policy, gate } });
  expect(put.statusCode).toBe(200);
  expect((await get(`/api/specimens/${id}/gate`)).json()).toMatchObject({ open: false });
  expect((await post(`/api/specimens/${id}/gate`, { by })).json().detail).toContain("authority to proceed");
  const authority = { by: "owner", on: "2026-06-02", words: "may be tested" };
  expect((await post(`/api/specimens/${id}/gate`, { by, authority })).json()).toMatchObject({ open: true });
});

it("an entry is amended, shown with its history, and a record is reviewed and released", async () => {
  const change = { entry: 2, path: "/details/ratedAmps", before: 20, after: 25, why: "misread", by };
  const made = await post("/api/amendments", change);
  expect(made.statusCode).toBe(201);
  expect(made.json()).toMatchObject({
    first: { details: { ratedAmps: 20 } },
    now: { details: { ratedAmps: 25 } },
  });
  expect((await get(`/api/specimens/${id}`)).json().details.ratedAmps).toBe(25);
  expect((await get("/api/amendments/2")).json()).toEqual(made.json());
  expect((await get(`/api/amendments?about=${id}`)).json()).toHaveLength(1);
  expect((await post("/api/amendments", change)).json().detail).toContain("is 25");
  expect((await get("/api/amendments/x")).statusCode).toBe(404);

  const about = { kind: "specimen", id };
  expect((await post("/api/reviews", { about, finding: "accepted", by })).statusCode).toBe(400);
  expect((await post("/api/reviews", { about, finding: "accepted", by: "Second" })).statusCode).toBe(201);
  expect((await post("/api/releases", { about, by: "Second" })).json().state).toBe("released");
  await post("/api/amendments", { ...change, before: 25, after: 20 });
  expect((await get(`/api/specimens/${id}/review`)).json().state).toBe("superseded");
  expect((await get("/api/shots/none/review")).statusCode).toBe(404);
});
