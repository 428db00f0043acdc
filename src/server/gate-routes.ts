import type { Static } from "typebox";
import { gateInput } from "../contract/gate-schema.ts";
import { gateView, passGate } from "../lab/gate.ts";
import type { Routes } from "./routes.ts";

type ById = { Params: { id: string } };

/** The gate before the first current of a specimen. What it demands is part of the policy. */
export const gateRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get<ById>(
      "/specimens/:id/gate",
      { schema: { summary: "What is met, skipped and missing before the first current" } },
      async (request) => gateView(lab, request.params.id),
    );
    api.post<ById & { Body: Static<typeof gateInput> }>(
      "/specimens/:id/gate",
      {
        config: { needs: "operator" },
        schema: { summary: "Pass the gate: what is in place, and what is skipped why", body: gateInput },
      },
      async (request, reply) =>
        reply.code(201).send(passGate(request.lab, request.params.id, request.body, "gate")),
    );
  };
