import Type from "typebox";
import { subjectField } from "./custody-schema.ts";
import type { EntryBodies } from "./ledger-entries.ts";
import { moment, person, plainName, prose } from "./record-fields.ts";

export type PhotographRecord = EntryBodies["photograph-added"];

/** A photograph larger than this is refused. */
export const largestPhotographBytes = 40_000_000;

export const photographShows = [
  "as received",
  "marking",
  "seal",
  "opened",
  "after test",
  "other",
] as const satisfies readonly PhotographRecord["shows"][];

const shows = Type.Enum([...photographShows], { description: "what it shows" });
const name = plainName("name of the file");

/** A photograph as the ledger keeps it. */
export const photographRecord = Type.Object(
  {
    photograph: Type.String({ pattern: "^[0-9a-f]{64}$", description: "SHA-256 of the file" }),
    about: subjectField,
    name,
    mediaType: Type.Enum(["image/png", "image/jpeg"]),
    bytes: Type.Integer({ minimum: 1 }),
    width: Type.Integer({ minimum: 1 }),
    height: Type.Integer({ minimum: 1 }),
    shows,
    takenAt: Type.Union([moment("when it was taken"), Type.Null()]),
    note: prose("note"),
  },
  { additionalProperties: false },
);
export const photographTypesAgree: [Type.Static<typeof photographRecord>] extends [PhotographRecord]
  ? true
  : never = true;

/** What is told of a photograph beside its bytes: the query of POST /api/photographs, options of `asfound photographs add`. */
export const photographInput = Type.Object(
  {
    about: subjectField,
    name,
    shows,
    takenAt: Type.Optional(moment("when it was taken")),
    note: Type.Optional(prose("note")),
    by: person,
  },
  { additionalProperties: false },
);

/** One photograph of a list. */
export interface PhotographView {
  sequence: number;
  at: string;
  by: string;
  amendments: number;
  record: PhotographRecord;
}
