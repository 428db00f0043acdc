import Type from "typebox";
import type { CustodyEvent } from "./ledger-entries.ts";
import { moment, person, plainName, prose, words } from "./record-fields.ts";

/** What custody and photographs are about. */
export const subjectField = Type.Object(
  {
    kind: Type.Enum(["specimen", "job"], { description: "whether of a specimen or of a job" }),
    id: words("identifier of the specimen, or name of the job"),
  },
  { additionalProperties: false },
);

export const custodyEvents = [
  "receipt",
  "transfer",
  "storage",
  "opening",
  "testing",
  "return",
  "disposal",
] as const satisfies readonly CustodyEvent["event"][];
export const sealConditions = [
  "intact",
  "broken",
  "removed",
  "applied",
] as const satisfies readonly CustodyEvent["seals"][number]["condition"][];

const seals = Type.Array(
  Type.Object(
    {
      number: plainName("number of the seal", 100),
      condition: Type.Enum([...sealConditions], { description: "condition of the seal" }),
    },
    { additionalProperties: false },
  ),
  { maxItems: 50 },
);
const fields = {
  about: subjectField,
  event: Type.Enum([...custodyEvents], { description: "what happened" }),
  from: words("who or where it came from"),
  to: words("who or where it went to"),
  observedAt: moment("when it was observed"),
};
const until = moment("when it ended, for what lasted");

/** A custody event as the ledger keeps it, times in UTC. */
export const custodyRecord = Type.Object(
  {
    ...fields,
    observedUntil: Type.Union([until, Type.Null()]),
    seals,
    condition: prose("condition of the package or specimen"),
    note: prose("note"),
  },
  { additionalProperties: false },
);
export const custodyTypesAgree: [Type.Static<typeof custodyRecord>] extends [CustodyEvent] ? true : never =
  true;

/** POST /api/custody, and the file of `asfound custody add`. Answer 201: the event. */
export const custodyInput = Type.Object(
  {
    ...fields,
    observedUntil: Type.Optional(until),
    seals: Type.Optional(seals),
    condition: Type.Optional(prose("condition of the package or specimen")),
    note: Type.Optional(prose("note")),
    by: person,
  },
  { additionalProperties: false },
);

/** One event on the timeline, as newest amended. `lateSeconds`: from when it was observed until it was entered. */
export interface CustodyLine {
  sequence: number;
  enteredAt: string;
  by: string;
  /** Sequence of the entry under which who made it signed in; left out where the name was only typed. */
  signIn?: number;
  lateSeconds: number;
  amendments: number;
  event: CustodyEvent;
}

/** Something that a reader of the chain must be told. `entries` are the sequences that it follows from. */
export interface CustodyRemark {
  kind: "gap" | "overlap" | "seal" | "late entry" | "order";
  words: string;
  entries: number[];
}

/** The custody of a specimen or job in the order of what was observed. `holder`: who has it now; null where nobody was named. */
export interface CustodyChain {
  about: { kind: "specimen" | "job"; id: string };
  holder: string | null;
  lines: CustodyLine[];
  remarks: CustodyRemark[];
}
