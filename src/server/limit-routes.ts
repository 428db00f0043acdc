import type { LimitSetView } from "../contract/http.ts";
import type { LimitSet } from "../core/limits/limit-set.ts";
import type { Routes } from "./routes.ts";

/** GET /limits and /limits/:id: every limit set with every row, its source and how well it is known. */
export const limitRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    const view = (set: LimitSet): LimitSetView => ({ set, confirmed: false });
    api.get("/limits", { schema: { summary: "All limit sets" } }, async () => lab.limits.all().map(view));
    api.get<{ Params: { id: string } }>(
      "/limits/:id",
      { schema: { summary: "One limit set" } },
      async (request) => view(lab.limits.get(request.params.id)),
    );
  };
