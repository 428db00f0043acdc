import type { Static } from "typebox";
import { addBandBody } from "../contract/band-schema.ts";
import { addBand, bandViews } from "../lab/bands.ts";
import type { Routes } from "./routes.ts";

/** The lab's own bands: added and listed. */
export const bandRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/bands", { schema: { summary: "The lab's own time-current bands" } }, async () =>
      bandViews(lab),
    );
    api.post<{ Body: Static<typeof addBandBody> }>(
      "/bands",
      {
        config: { needs: "operator" },
        schema: { summary: "Add a band; its edges are checked", body: addBandBody },
      },
      async (request, reply) => {
        addBand(request.lab, request.body, "band");
        return reply.code(201).send(bandViews(lab).at(-1));
      },
    );
  };
