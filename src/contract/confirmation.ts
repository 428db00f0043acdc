import Type from "typebox";
import type { LimitSetView } from "./http.ts";
import type { EntryBodies } from "./ledger-entries.ts";

const words = (description: string) => Type.String({ minLength: 1, maxLength: 300, description });

/** POST /api/limits/:id/confirmations: rows were compared with the lab's own copy. Answer 201: ConfirmedLimitSetView. */
export const confirmLimitSetBody = Type.Object(
  {
    document: words("the document that was compared with, by its name"),
    edition: words("its edition"),
    by: words("who compared"),
    on: Type.Optional(
      Type.String({
        pattern: "^\\d{4}-\\d{2}-\\d{2}$",
        description: "day, YYYY-MM-DD; today where left out",
      }),
    ),
    rows: Type.Optional(
      Type.Array(Type.String(), { minItems: 1, description: "identifiers of rows; all where left out" }),
    ),
    note: Type.Optional(Type.String({ maxLength: 2000 })),
  },
  { additionalProperties: false },
);
export type ConfirmLimitSet = Type.Static<typeof confirmLimitSetBody>;

/** One confirmation. `holds` is false where the set has changed since. GET /api/limits/:id/confirmations gives a list. */
export type ConfirmationView = EntryBodies["limit-set-confirmed"] & { holds: boolean };

/** GET /api/limits, /api/limits/:id. `confirmed`: every row is. */
export interface ConfirmedLimitSetView extends LimitSetView {
  confirmedRows: string[];
  confirmations: ConfirmationView[];
}
