import { type GiveRoles, giveRolesInput } from "../contract/people-schema.ts";
import { giveRoles, peopleOf } from "../lab/people.ts";
import type { Routes } from "./routes.ts";
import type { Sessions } from "./sessions.ts";

/** Who may do what. */
export const peopleRoutes =
  (sessions: Sessions): Routes =>
  ({ lab }) =>
  async (api) => {
    api.get("/people", { schema: { summary: "Everybody known to the lab, with roles" } }, async () =>
      peopleOf(lab),
    );
    api.post<{ Body: GiveRoles }>(
      "/people",
      {
        config: { needs: "administrator" },
        schema: { summary: "Give a person roles, in place of those before", body: giveRolesInput },
      },
      async (request, reply) => {
        const given = await giveRoles(request.lab, request.body, "person");
        // Whoever has the old password, or had another role, starts anew.
        sessions.endAllOf(given.person, request.session);
        return reply.code(201).send(given);
      },
    );
  };
