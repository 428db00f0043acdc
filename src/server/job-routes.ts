import type { Static } from "typebox";
import { jobInput } from "../contract/job-schema.ts";
import { jobView, jobViews, openJob } from "../lab/jobs.ts";
import type { Routes } from "./routes.ts";

/** Jobs: opened, listed, shown with their specimens. */
export const jobRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/jobs", { schema: { summary: "All jobs, with their specimens" } }, async () => jobViews(lab));
    api.get<{ Params: { job: string } }>(
      "/jobs/:job",
      { schema: { summary: "One job, by its name" } },
      async (request) => jobView(lab, request.params.job),
    );
    api.post<{ Body: Static<typeof jobInput> }>(
      "/jobs",
      { config: { needs: "operator" }, schema: { summary: "Open a job", body: jobInput } },
      async (request, reply) => reply.code(201).send(openJob(request.lab, request.body, "job")),
    );
  };
