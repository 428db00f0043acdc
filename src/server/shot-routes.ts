import type { Static } from "typebox";
import { startShotBody, traceQuery } from "../contract/http.ts";
import { originOf } from "../lab/entry-origin.ts";
import { shotLines, shotView } from "../lab/shot-view.ts";
import { traceView } from "../lab/trace-view.ts";
import type { Routes } from "./routes.ts";

type ById = { Params: { id: string } };

/** Shots: started, stopped, listed and shown. */
export const shotRoutes: Routes =
  ({ lab, desk }) =>
  async (api) => {
    api.get<{ Querystring: { specimen?: string } }>(
      "/shots",
      { schema: { summary: "The record, newest first" } },
      async (request) => shotLines(lab, request.query.specimen),
    );
    api.get(
      "/shots/current",
      { schema: { summary: "The shot under way, or null" } },
      async (_request, reply) => reply.type("application/json").send(JSON.stringify(desk.current())),
    );
    api.get<ById>("/shots/:id", { schema: { summary: "One shot, whole" } }, async (request) =>
      shotView(lab, request.params.id),
    );
    api.get<ById & { Querystring: { points?: string } }>(
      "/shots/:id/trace",
      {
        schema: { summary: "Current against time, thinned to at most 4000 points", querystring: traceQuery },
      },
      async (request) => traceView(lab, request.params.id, Number(request.query.points ?? 2000)),
    );
    api.post<{ Body: Static<typeof startShotBody> }>(
      "/shots",
      {
        config: { needs: "operator", drivesBench: true },
        schema: { summary: "Run one test point; what follows arrives on the live feed", body: startShotBody },
      },
      async (request, reply) =>
        reply.code(202).send({ shot: await desk.start(request.body, originOf(request.lab)) }),
    );
    api.post(
      "/stop",
      { config: { needs: "nobody" }, schema: { summary: "Stop: current off and disarm, in any state" } },
      async (_request, reply) => {
        await desk.stop();
        return reply.code(204).send();
      },
    );
  };
