import type { Static } from "typebox";
import { importStudiesBody, type PoolQuery, poolQuery } from "../contract/studies.ts";
import { forestFigure } from "../exhibit/forest-figure.ts";
import { funnelFigure } from "../exhibit/funnel-figure.ts";
import { importStudies, recordedStudies } from "../lab/import-studies.ts";
import { pool, poolByEveryModel } from "../lab/pool-request.ts";
import { readPoolQuestion } from "../lab/pool-studies.ts";
import { sendFigure } from "./rate-routes.ts";
import type { Routes } from "./routes.ts";

type Asked = { Querystring: PoolQuery };

/** Studies: imported, listed, pooled. */
export const studyRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/studies", { schema: { summary: "The recorded studies" } }, async () => recordedStudies(lab));
    api.post<{ Body: Static<typeof importStudiesBody> }>(
      "/studies",
      {
        config: { needs: "operator" },
        schema: { summary: "Record the studies of a CSV text: all rows or none", body: importStudiesBody },
      },
      async ({ body, lab }, reply) =>
        reply.code(201).send(importStudies(lab, body.csv, body.name ?? "the file")),
    );
    const asked = (summary: string) => ({ schema: { summary, querystring: poolQuery } });
    api.get<Asked>("/pool", asked("Studies of one criterion pooled"), async ({ query }) =>
      pool(lab, [], readPoolQuestion(query)),
    );
    api.get<Asked>("/pool/compare", asked("The pooled rate by every model"), async ({ query }) =>
      poolByEveryModel(lab, readPoolQuestion(query)),
    );
    api.get<Asked>("/pool/forest.svg", asked("Forest plot as SVG"), async ({ query }, reply) => {
      const { forest } = pool(lab, [], readPoolQuestion(query));
      return sendFigure(reply, forest.rows.length, () => forestFigure(forest));
    });
    api.get<Asked>("/pool/funnel.svg", asked("Funnel plot as SVG"), async ({ query }, reply) => {
      const { funnel } = pool(lab, [], readPoolQuestion(query));
      return sendFigure(reply, funnel.points.length, () => funnelFigure(funnel));
    });
  };
