import { labView } from "../lab/lab-view.ts";
import type { Routes } from "./routes.ts";

/** GET /lab: who and where, with the cautions that stand on every page. */
export const labRoutes: Routes =
  ({ lab, seeding }) =>
  async (api) => {
    api.get("/lab", { schema: { summary: "The lab, its ledger's head and the cautions" } }, async () =>
      labView(lab, seeding.view()),
    );
  };
