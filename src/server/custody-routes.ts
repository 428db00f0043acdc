import type { Static } from "typebox";
import { custodyInput } from "../contract/custody-schema.ts";
import { addCustodyEvent, custodyChain } from "../lab/custody.ts";
import type { Routes } from "./routes.ts";

/** Chain of custody of specimens and jobs. */
export const custodyRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.post<{ Body: Static<typeof custodyInput> }>(
      "/custody",
      { config: { needs: "operator" }, schema: { summary: "Record a custody event", body: custodyInput } },
      async (request, reply) =>
        reply.code(201).send(addCustodyEvent(request.lab, request.body, "custody event")),
    );
    api.get<{ Params: { id: string } }>(
      "/specimens/:id/custody",
      { schema: { summary: "Chain of custody of a specimen, with gaps and overlaps in words" } },
      async (request) => custodyChain(lab, { kind: "specimen", id: request.params.id }),
    );
    api.get<{ Params: { job: string } }>(
      "/jobs/:job/custody",
      { schema: { summary: "Chain of custody of a job, with gaps and overlaps in words" } },
      async (request) => custodyChain(lab, { kind: "job", id: request.params.job }),
    );
  };
