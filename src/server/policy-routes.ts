import type { Static } from "typebox";
import { policyBody } from "../contract/policy-schema.ts";
import { policyOf, setPolicy } from "../lab/policy.ts";
import type { Routes } from "./routes.ts";

/** What the lab has decided for all its work. */
export const policyRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/policy", { schema: { summary: "The lab's policy" } }, async () => policyOf(lab));
    api.put<{ Body: Static<typeof policyBody> }>(
      "/policy",
      {
        config: { needs: "administrator" },
        schema: { summary: "Decide anew; the decision before stays in the ledger", body: policyBody },
      },
      async (request) => setPolicy(request.lab, request.body),
    );
  };
