import { type LockProgramme, lockProgrammeBody, type ProgrammeChoice } from "../contract/programme.ts";
import { programmes } from "../core/specimen/programme.ts";
import { lockProgramme } from "../lab/lock-programme.ts";
import { nextSteps } from "../lab/next-steps.ts";
import { planView } from "../lab/programme-view.ts";
import { resultMatrixView } from "../lab/result-matrix-view.ts";
import { specimenFit } from "../lab/specimen-fit.ts";
import type { Routes } from "./routes.ts";

type ById = { Params: { id: string } };

/** Programmes: named, locked, carried out over several specimens; a specimen's matrix of results and its own trip model. */
export const programmeRoutes: Routes =
  ({ lab, desk }) =>
  async (api) => {
    api.get("/programmes", { schema: { summary: "The named programmes" } }, async () =>
      programmes.map(({ name, about }): ProgrammeChoice => ({ name, about })),
    );
    api.get("/next", { schema: { summary: "The next step of every unfinished programme" } }, async () =>
      nextSteps(lab, desk.rig()),
    );
    api.get<ById>(
      "/specimens/:id/plan",
      { schema: { summary: "The locked programme of a specimen and how far it is" } },
      async (request) => planView(lab, request.params.id),
    );
    api.post<ById & { Body: LockProgramme }>(
      "/specimens/:id/programme",
      {
        config: { needs: "operator" },
        schema: {
          summary: "Lock programme, limit set and decision rule of a specimen",
          body: lockProgrammeBody,
        },
      },
      async (request, reply) => {
        lockProgramme(request.lab, request.params.id, request.body);
        return reply.code(201).send(planView(lab, request.params.id));
      },
    );
    api.get<ById>(
      "/specimens/:id/matrix",
      { schema: { summary: "Results of a specimen: multiples down, loadings across" } },
      async (request) => resultMatrixView(lab, request.params.id),
    );
    api.get<ById>(
      "/specimens/:id/fit",
      { schema: { summary: "The trip model of a specimen's own shots, with its curve" } },
      async (request) => specimenFit(lab, request.params.id),
    );
  };
