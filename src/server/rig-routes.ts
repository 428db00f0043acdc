import type { Static } from "typebox";
import { connectBody } from "../contract/http.ts";
import type { Routes } from "./routes.ts";

/** The rig and its line. */
export const rigRoutes: Routes =
  ({ desk }) =>
  async (api) => {
    api.get("/rig", { schema: { summary: "State of the rig and its line" } }, async () => desk.rig());
    api.get("/rig/links", { schema: { summary: "Addresses that can be tried" } }, async () =>
      desk.linkChoices(),
    );
    api.get("/rig/breakers", { schema: { summary: "Breakers that the emulated rig can play" } }, async () =>
      desk.breakers(),
    );
    api.post<{ Body: Static<typeof connectBody> }>(
      "/rig/connect",
      {
        config: { needs: "operator", drivesBench: true },
        schema: { summary: "Use another rig", body: connectBody },
      },
      async (request) => desk.connect(request.body.address),
    );
    api.post(
      "/rig/clear",
      {
        config: { needs: "operator", drivesBench: true },
        schema: { summary: "Leave the fault state once its cause is gone" },
      },
      async () => desk.clearFault(),
    );
  };
