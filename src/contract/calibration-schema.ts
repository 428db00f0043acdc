import Type from "typebox";
import type { EntryBodies } from "./ledger-entries.ts";

const words = (description: string) => Type.String({ minLength: 1, maxLength: 200, description });
const day = (description: string) =>
  Type.String({ pattern: "^\\d{4}-\\d{2}-\\d{2}$", description: `${description}, YYYY-MM-DD` });

const point = Type.Object(
  {
    value: Type.Number({ description: "value at which it was calibrated" }),
    unit: Type.Enum(["A", "s", "°C"], { description: "unit of value, deviation and expanded" }),
    deviation: Type.Number({ description: "indication less reference, in that unit" }),
    expanded: Type.Number({ exclusiveMinimum: 0, description: "expanded uncertainty U, in that unit" }),
  },
  { additionalProperties: false },
);

/**
 * POST /api/calibrations, and the file of `asfound calibrations add`: one certificate for one quantity of the rig or of one of
 * its instruments. Answer 201: the record. `expandedPercent` is for current, `expandedSeconds` for time.
 */
export const calibrationBody = Type.Object(
  {
    instrument: words("what was calibrated, in words"),
    serial: words("serial number, as the rig gives it where it is the rig's own"),
    quantity: Type.Enum(["current", "time", "temperature"], { description: "what it measures" }),
    certificate: words("number of the certificate"),
    issuer: words("laboratory that issued it"),
    on: day("date of calibration"),
    due: day("last day on which it may be used"),
    points: Type.Optional(Type.Array(point, { maxItems: 1000 })),
    expandedPercent: Type.Optional(
      Type.Union([Type.Number({ exclusiveMinimum: 0, exclusiveMaximum: 100 }), Type.Null()], {
        description: "expanded uncertainty U in percent of reading, above 0 and below 100",
      }),
    ),
    expandedSeconds: Type.Optional(
      Type.Union([Type.Number({ exclusiveMinimum: 0, maximum: 1e6 }), Type.Null()], {
        description: "expanded uncertainty U of a time, in seconds, above 0",
      }),
    ),
    k: Type.Number({ exclusiveMinimum: 0, maximum: 100, description: "coverage factor of U" }),
  },
  { additionalProperties: false },
);
export type CalibrationInput = Type.Static<typeof calibrationBody>;

/** One record with what it is today. GET /api/calibrations gives a list, newest first. */
export interface CalibrationView {
  record: EntryBodies["calibration-recorded"];
  recordedAt: string;
  /** `replaced`: a later certificate speaks of the same quantity of the same serial number. `not yet`: its date lies ahead. */
  state: "in force" | "past due" | "replaced" | "not yet";
}
