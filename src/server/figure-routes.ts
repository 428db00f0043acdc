import Type, { type Static } from "typebox";
import { timeCurrentFigure } from "../exhibit/time-current-figure.ts";
import { timeCurrentData } from "../lab/time-current-data.ts";
import type { Routes } from "./routes.ts";

const timeCurrentQuery = Type.Object(
  {
    specimen: Type.String({ description: "identifier of the specimen" }),
    limitSet: Type.Optional(Type.String({ description: "identifier of the limit set" })),
    axis: Type.Optional(Type.Enum(["multiple", "amps"], { description: "what the current axis shows" })),
  },
  { additionalProperties: false },
);

/** Figures as SVG, drawn by the same code as those of the command line. */
export const figureRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get<{ Querystring: Static<typeof timeCurrentQuery> }>(
      "/figures/time-current.svg",
      { schema: { summary: "Time-current figure of a specimen, SVG", querystring: timeCurrentQuery } },
      async ({ query: { specimen, limitSet, axis } }, reply) =>
        reply.type("image/svg+xml").send(
          timeCurrentFigure(
            timeCurrentData(lab, specimen, {
              ...(limitSet === undefined ? {} : { limitSet }),
              ...(axis === undefined ? {} : { axis }),
            }),
          ),
        ),
    );
  };
