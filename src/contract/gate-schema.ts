import Type from "typebox";
import type { GateDemand, GateItem, GatePassage } from "./ledger-entries.ts";
import { day, person, prose, type Same, words } from "./record-fields.ts";

const item = Type.Enum(["photographs", "checks", "programmeLocked", "parties", "authority"], {
  description: "what is skipped",
});
const closed = { additionalProperties: false } as const;
const authority = Type.Object(
  {
    by: words("who gave it"),
    on: day("day on which it was given"),
    words: prose("what it allows"),
  },
  closed,
);
const fields = {
  checks: Type.Array(
    Type.Object({ check: words("check that alters nothing"), found: words("what was found", 2000) }, closed),
    { maxItems: 100 },
  ),
  parties: Type.Array(
    Type.Object(
      {
        party: words("who was notified"),
        notifiedOn: day("day of the notice"),
        answer: words("what was answered, or that there was none", 2000),
      },
      closed,
    ),
    { maxItems: 100 },
  ),
  present: Type.Array(words("who is present"), { maxItems: 100 }),
  skipped: Type.Array(Type.Object({ item, reason: words("why it is skipped", 2000) }, closed), {
    maxItems: 5,
  }),
  note: prose("note"),
};

/** A passage of the gate as the ledger keeps it. */
export const gateRecord = Type.Object(
  {
    specimen: words("identifier of the specimen"),
    photographs: Type.Array(Type.String({ pattern: "^[0-9a-f]{64}$" })),
    programmeLock: Type.Union([Type.Integer({ minimum: 1 }), Type.Null()]),
    ...fields,
    authority: Type.Union([authority, Type.Null()]),
  },
  closed,
);
export const gateTypesAgree: Same<Type.Static<typeof gateRecord>, GatePassage> = true;

/** POST /api/specimens/:id/gate, and the file of `asfound gate pass`. Answer 201: the state of the gate. */
export const gateInput = Type.Object(
  {
    checks: Type.Optional(fields.checks),
    parties: Type.Optional(fields.parties),
    present: Type.Optional(fields.present),
    authority: Type.Optional(authority),
    skipped: Type.Optional(fields.skipped),
    note: Type.Optional(fields.note),
    by: person,
  },
  closed,
);

/** One item of the gate of a specimen: `met` by what, `skipped` for what reason, `missing`, or `not needed`. */
export interface GateLine {
  item: GateItem;
  demand: GateDemand;
  state: "met" | "skipped" | "missing" | "not needed";
  words: string;
}

/** The gate of a specimen today. `open`: the first current may flow, or has flowed already. */
export interface GateView {
  specimen: string;
  open: boolean;
  currentHasFlowed: boolean;
  lines: GateLine[];
  passages: { sequence: number; at: string; by: string; amendments: number; passage: GatePassage }[];
}
