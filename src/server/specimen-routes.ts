import type { Static } from "typebox";
import { moveHandleBody, receiveSpecimenBody } from "../contract/http.ts";
import { moveHandle } from "../lab/move-handle.ts";
import { programmeView } from "../lab/programme-view.ts";
import { receiveSpecimen } from "../lab/receive-specimen.ts";
import { specimenView, specimenViews } from "../lab/specimen-view.ts";
import type { Routes } from "./routes.ts";

type ById = { Params: { id: string } };

/** Specimens: received, listed, shown with their programme; the handle moved. */
export const specimenRoutes: Routes =
  ({ lab, desk }) =>
  async (api) => {
    api.get("/specimens", { schema: { summary: "All specimens" } }, async () => specimenViews(lab));
    api.get<ById>("/specimens/:id", { schema: { summary: "One specimen" } }, async (request) =>
      specimenView(lab, request.params.id),
    );
    api.post<{ Body: Static<typeof receiveSpecimenBody> }>(
      "/specimens",
      { config: { needs: "operator" }, schema: { summary: "Receive a specimen", body: receiveSpecimenBody } },
      async (request, reply) => {
        const id = receiveSpecimen(request.lab, request.body);
        return reply.code(201).send(specimenView(lab, id));
      },
    );
    api.get<ById & { Querystring: { limitSet?: string } }>(
      "/specimens/:id/programme",
      { schema: { summary: "The test points that apply to a specimen, in order" } },
      async (request) => programmeView(lab, request.params.id, request.query.limitSet),
    );
    api.post<ById & { Body: Static<typeof moveHandleBody> }>(
      "/specimens/:id/handle",
      {
        config: { needs: "operator" },
        schema: { summary: "The handle was moved; ends the as-found state", body: moveHandleBody },
      },
      async (request) => {
        moveHandle(request.lab, request.params.id, request.body.operations, request.body.note);
        desk.handleMoved(request.params.id, request.body.operations);
        return specimenView(lab, request.params.id);
      },
    );
  };
