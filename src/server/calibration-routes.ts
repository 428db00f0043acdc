import type { Static } from "typebox";
import { calibrationBody } from "../contract/calibration-schema.ts";
import { addCalibration, calibrationViews } from "../lab/calibrations.ts";
import type { Routes } from "./routes.ts";

/** Calibration records of the rig and its instruments. */
export const calibrationRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    api.get("/calibrations", { schema: { summary: "All calibration records, newest first" } }, async () =>
      calibrationViews(lab),
    );
    api.post<{ Body: Static<typeof calibrationBody> }>(
      "/calibrations",
      { config: { needs: "operator" }, schema: { summary: "Record a certificate", body: calibrationBody } },
      async (request, reply) =>
        reply.code(201).send(addCalibration(request.lab, request.body, "calibration")),
    );
  };
