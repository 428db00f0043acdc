import type { Static } from "typebox";
import { type LedgerCheck, verifyQuery } from "../contract/ledger-views.ts";
import { RigError } from "../lab/rig-error.ts";
import { workshopHere } from "../lab/workshop.ts";
import type { Routes } from "./routes.ts";

/** GET /verify: the check of `asfound verify --data`, asked for from the page. */
export const verifyRoutes: Routes =
  ({ lab, desk, workshop = workshopHere(lab) }) =>
  async (api) => {
    api.get<{ Querystring: Static<typeof verifyQuery> }>(
      "/verify",
      {
        schema: {
          summary: "Check chain, signatures, samples, photographs and projections",
          querystring: verifyQuery,
        },
      },
      async ({ query: { head } }): Promise<LedgerCheck> => {
        // A check reads everything in one go; where that stops all else, a rig under current would miss its heartbeat.
        if (workshop.blocks && desk.current() !== null)
          throw new RigError("A shot is under way: the ledger is checked when it has ended");
        const begun = performance.now();
        const found = await workshop.run({
          make: "check",
          ...(head === undefined ? {} : { knownHead: head }),
        });
        return { ...found, seconds: (performance.now() - begun) / 1000 };
      },
    );
  };
