import type { Static } from "typebox";
import { type PanelQuery, type PlaceQuery, panelQuery, placeQuery, sharesBody } from "../contract/plans.ts";
import { sharesView } from "../lab/equipment-shares.ts";
import { panelView, placeView } from "../lab/place-risk.ts";
import { planKindOf, planKindsView, planTests } from "../lab/plan-tests.ts";
import { readConfidence } from "../lab/rates-question.ts";
import type { Routes } from "./routes.ts";

/** Planning, what rates mean for a place or a panel, and shares of equipment. */
export const planRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/plan", { schema: { summary: "Kinds of plan with their inputs" } }, async () => planKindsView());
    api.get<{ Params: { kind: string }; Querystring: Record<string, string> }>(
      "/plan/:kind",
      { schema: { summary: "How many to test" } },
      async ({ params, query }) => planTests(planKindOf(params.kind), query),
    );
    api.get<{ Querystring: PlaceQuery }>(
      "/place",
      { schema: { summary: "Bounds on failures among those still in service", querystring: placeQuery } },
      async ({ query }) => placeView(query),
    );
    api.get<{ Querystring: PanelQuery }>(
      "/panel",
      { schema: { summary: "What rates mean for a panel", querystring: panelQuery } },
      async ({ query }) => panelView(query, lab),
    );
    api.post<{ Body: Static<typeof sharesBody> }>(
      "/shares",
      {
        config: { needs: "viewer" },
        schema: { summary: "Shares of equipment kinds by year, from a CSV log", body: sharesBody },
      },
      async ({ body }) =>
        sharesView(body.csv, "the log", { kind: body.kind, confidence: readConfidence(body.confidence) }),
    );
  };
