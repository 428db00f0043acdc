import type { Static } from "typebox";
import { releaseInput, reviewInput } from "../contract/review-schema.ts";
import { releaseRecord, reviewRecord, reviewView } from "../lab/reviews.ts";
import type { Routes } from "./routes.ts";

type ById = { Params: { id: string } };

/** Review and release of records by a second person. */
export const reviewRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    for (const [path, kind] of [
      ["/specimens/:id/review", "specimen"],
      ["/shots/:id/review", "shot"],
    ] as const)
      api.get<ById>(path, { schema: { summary: `Where the record of a ${kind} stands` } }, async (request) =>
        reviewView(lab, { kind, id: request.params.id }),
      );
    api.post<{ Body: Static<typeof reviewInput> }>(
      "/reviews",
      { config: { needs: "reviewer" }, schema: { summary: "Review a record", body: reviewInput } },
      async (request, reply) => reply.code(201).send(reviewRecord(request.lab, request.body, "review")),
    );
    api.post<{ Body: Static<typeof releaseInput> }>(
      "/releases",
      { config: { needs: "reviewer" }, schema: { summary: "Release a reviewed record", body: releaseInput } },
      async (request, reply) => reply.code(201).send(releaseRecord(request.lab, request.body, "release")),
    );
  };
