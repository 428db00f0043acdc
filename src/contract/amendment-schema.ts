import Type from "typebox";
import type { EntryBodies, EntryKind } from "./ledger-entries.ts";
import { person, words } from "./record-fields.ts";

/**
 * POST /api/amendments: one field of an earlier entry corrected. `before` is the value that stands now, left out where the field
 * is not there; `after` is left out to take the field away. Answer 201: the entry as it stands then, with its history.
 */
export const amendmentInput = Type.Object(
  {
    entry: Type.Integer({ minimum: 1, description: "sequence of the entry that is amended" }),
    path: Type.String({
      maxLength: 500,
      pattern: "^(/([^~/]|~[01])*)+$",
      description: "JSON pointer (RFC 6901) into the entry's body, such as /details/condition",
    }),
    before: Type.Optional(Type.Unknown({ description: "the value that stands now" })),
    after: Type.Optional(Type.Unknown({ description: "the value that is right" })),
    why: words("why it is amended", 2000),
    by: person,
  },
  { additionalProperties: false },
);

/** One amendment in the history of an entry. */
export interface AmendmentView {
  sequence: number;
  at: string;
  by: string;
  amendment: EntryBodies["entry-amended"];
}

/** An entry as it stands now, beside what was first written and every change since, oldest first. */
export interface AmendedEntry {
  sequence: number;
  kind: EntryKind;
  at: string;
  by: string;
  first: unknown;
  now: unknown;
  history: AmendmentView[];
}
