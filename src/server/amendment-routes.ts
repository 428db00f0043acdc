import Type, { type Static } from "typebox";
import { amendmentInput } from "../contract/amendment-schema.ts";
import { amendEntry, amendmentView, amendmentViews } from "../lab/amendments.ts";
import type { Routes } from "./routes.ts";

const asked = Type.Object({ about: Type.Optional(Type.String()) }, { additionalProperties: false });

/** Amendments: made, and entries shown as newest amended with their history. */
export const amendmentRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.post<{ Body: Static<typeof amendmentInput> }>(
      "/amendments",
      {
        config: { needs: "operator" },
        schema: { summary: "Correct one field of an earlier entry", body: amendmentInput },
      },
      async (request, reply) => reply.code(201).send(amendEntry(request.lab, request.body, "amendment")),
    );
    api.get<{ Querystring: Static<typeof asked> }>(
      "/amendments",
      { schema: { summary: "Amended entries, of all or of one specimen, shot or job", querystring: asked } },
      async ({ query }) => amendmentViews(lab, query.about),
    );
    api.get<{ Params: { entry: string } }>(
      "/amendments/:entry",
      { schema: { summary: "One entry as newest amended, with its history" } },
      async (request) => amendmentView(lab, Number(request.params.entry)),
    );
  };
