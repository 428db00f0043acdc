import type { Static } from "typebox";
import { importSpecimensBody, longestListBytes } from "../contract/import-schema.ts";
import { importSpecimenList } from "../lab/import-specimens.ts";
import type { Routes } from "./routes.ts";

/** Lists of specimens, received whole or not at all. */
export const importRoutes: Routes = () => async (api) => {
  api.post<{ Body: Static<typeof importSpecimensBody> }>(
    "/specimens/import",
    {
      // A text in JSON is longer than the text.
      bodyLimit: 2 * longestListBytes,
      config: { needs: "operator" },
      schema: { summary: "Receive every specimen of a CSV text, all or none", body: importSpecimensBody },
    },
    async ({ body: { csv, name = "the list" }, lab }, reply) =>
      reply.code(201).send(importSpecimenList(lab, csv, name)),
  );
};
