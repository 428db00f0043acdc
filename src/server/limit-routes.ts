import type { Static } from "typebox";
import { confirmLimitSetBody } from "../contract/confirmation.ts";
import { confirmationsOf, confirmLimitSet, limitSetView } from "../lab/confirm-limit-set.ts";
import type { Routes } from "./routes.ts";

type ById = { Params: { id: string } };

/** Limit sets: every set with every row, its source and how well it is known; and the lab's own confirmations. */
export const limitRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/limits", { schema: { summary: "All limit sets" } }, async () =>
      lab.limits.all().map((set) => limitSetView(lab, set)),
    );
    api.get<ById>("/limits/:id", { schema: { summary: "One limit set" } }, async (request) =>
      limitSetView(lab, lab.limits.get(request.params.id)),
    );
    api.get<ById>(
      "/limits/:id/confirmations",
      { schema: { summary: "Every confirmation of a limit set, oldest first" } },
      async (request) => confirmationsOf(lab, request.params.id),
    );
    api.post<ById & { Body: Static<typeof confirmLimitSetBody> }>(
      "/limits/:id/confirmations",
      {
        config: { needs: "reviewer" },
        schema: {
          summary: "Rows were compared with the lab's own copy of the document",
          body: confirmLimitSetBody,
        },
      },
      async (request, reply) => {
        confirmLimitSet(request.lab, request.params.id, request.body);
        return reply.code(201).send(limitSetView(lab, lab.limits.get(request.params.id)));
      },
    );
  };
