import type { EntryKind } from "../contract/ledger-entries.ts";
import type { Lab } from "./lab.ts";

/** Entries that the view of a specimen or of a shot shows. Others about the same, such as its custody, have views of their own. */
const shown: ReadonlySet<EntryKind> = new Set(["specimen-received", "handle-moved", "shot-opened"]);

/** How often the entries were amended that a view shows. */
export interface AmendmentCounts {
  /** By the identifier of a specimen or of a shot; 0 where nothing was amended. */
  of(id: string): number;
}

/** Reads all amendments once, so that a list costs no more than one of its rows. */
export function amendmentCounts(lab: Pick<Lab, "store">): AmendmentCounts {
  const counts = new Map<string, number>();
  for (const { body } of lab.store.ledger.entries({ kind: "entry-amended" }))
    if (body.about !== null && shown.has(body.kind))
      counts.set(body.about.id, (counts.get(body.about.id) ?? 0) + 1);
  return { of: (id) => counts.get(id) ?? 0 };
}
