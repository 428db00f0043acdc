import Type from "typebox";
import type { JobDetails } from "./ledger-entries.ts";
import { day, person, plainName, prose, type Same, words } from "./record-fields.ts";

const fields = {
  job: plainName("name of the job, as specimens give it"),
  site: words("where the specimens were removed"),
  on: day("day of the removal"),
  circumstances: prose("why and how they were removed"),
  panels: Type.Array(plainName("name of a panel"), { maxItems: 500 }),
};
const told = {
  clientReference: words("the client's reference"),
  removedBy: words("who removed them"),
  authority: words("on whose authority"),
};
const orNull = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

/** A job as the ledger keeps it. */
export const jobRecord = Type.Object(
  {
    ...fields,
    clientReference: orNull(told.clientReference),
    removedBy: orNull(told.removedBy),
    authority: orNull(told.authority),
  },
  { additionalProperties: false },
);
export const jobTypesAgree: Same<Type.Static<typeof jobRecord>, JobDetails> = true;

/** POST /api/jobs, and the file of `asfound jobs open`. Answer 201: the job. */
export const jobInput = Type.Object(
  {
    job: fields.job,
    site: fields.site,
    on: fields.on,
    clientReference: Type.Optional(told.clientReference),
    removedBy: Type.Optional(told.removedBy),
    authority: Type.Optional(told.authority),
    circumstances: Type.Optional(fields.circumstances),
    panels: Type.Optional(fields.panels),
    by: person,
  },
  { additionalProperties: false },
);

/** One job with its specimens. `opened` is null for a name that specimens give although no such job was opened. */
export interface JobView {
  job: string;
  opened: {
    sequence: number;
    at: string;
    by: string;
    details: JobDetails;
    amendments: number;
  } | null;
  specimens: {
    id: string;
    label: string;
    panel: string | null;
    circuit: string | null;
    shots: number;
    /** As in the view of the specimen. */
    amendments: number;
  }[];
  /** Whole sentences: specimens in panels that the job does not name, a job never opened. */
  remarks: string[];
}
