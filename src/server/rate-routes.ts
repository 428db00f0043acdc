import type { FastifyReply } from "fastify";
import { type RatesQuery, ratesQuery } from "../contract/rates.ts";
import { marginsFigure } from "../exhibit/margins-figure.ts";
import { ratesFigure } from "../exhibit/rates-figure.ts";
import { survivalFigure } from "../exhibit/survival-figure.ts";
import { InputError } from "../lab/input-error.ts";
import { ratesView } from "../lab/rates.ts";
import { rateCases } from "../lab/rates-cases.ts";
import { ratesCsv } from "../lab/rates-csv.ts";
import { readRateQuestion } from "../lab/rates-question.ts";
import { marginsView, tripTimesView } from "../lab/trip-times.ts";
import type { Routes } from "./routes.ts";

type Asked = { Querystring: RatesQuery };

/** Sends an SVG; a figure without anything to draw is refused in words. */
export function sendFigure(reply: FastifyReply, rows: number, draw: () => string): FastifyReply {
  if (rows === 0) throw new InputError("there is nothing to draw: no specimen answers to this criterion");
  return reply.type("image/svg+xml").send(draw());
}

/** Failure rates and times to trip of the lab's own specimens: tables, specimens in and out, CSV and SVG. */
export const rateRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    const asked = (summary: string) => ({ schema: { summary, querystring: ratesQuery } });
    api.get<Asked>("/rates", asked("Failure rates by stratum, k of n with bounds"), async ({ query }) =>
      ratesView(lab, readRateQuestion(query)),
    );
    api.get<Asked>(
      "/rates/specimens",
      asked("Who is in and who is out, and why; at most 2000 specimens"),
      async ({ query }) => rateCases(lab, readRateQuestion(query), 2000),
    );
    api.get<Asked>("/rates.csv", asked("Failure rates as CSV"), async ({ query }, reply) =>
      reply
        .type("text/csv; charset=utf-8")
        .header("content-disposition", 'attachment; filename="rates.csv"')
        .send(ratesCsv(ratesView(lab, readRateQuestion(query)))),
    );
    api.get<Asked>("/rates.svg", asked("Failure rates as SVG"), async ({ query }, reply) => {
      const { figure } = ratesView(lab, readRateQuestion(query));
      return sendFigure(reply, figure.rows.length, () => ratesFigure(figure));
    });
    api.get<Asked>("/trip-times", asked("Times to trip by stratum, with censoring"), async ({ query }) =>
      tripTimesView(lab, readRateQuestion(query)),
    );
    api.get<Asked>("/trip-times.svg", asked("Times to trip as SVG"), async ({ query }, reply) => {
      const { figure } = tripTimesView(lab, readRateQuestion(query));
      return sendFigure(reply, figure.curves.length, () => survivalFigure(figure));
    });
    api.get<Asked>("/margins", asked("Time over limit of each specimen"), async ({ query }) =>
      marginsView(lab, readRateQuestion(query)),
    );
    api.get<Asked>("/margins.svg", asked("Time over limit as SVG"), async ({ query }, reply) => {
      const { figure } = marginsView(lab, readRateQuestion(query));
      return sendFigure(reply, figure.points.length, () => marginsFigure(figure));
    });
  };
