import type { AmendedEntry, AmendmentView } from "../contract/amendment-schema.ts";
import type { EntryKind, LedgerEntry } from "../contract/ledger-entries.ts";
import { pointerSteps, withValueAt } from "../core/evidence/json-pointer.ts";
import type { Lab } from "./lab.ts";

type Reader = Pick<Lab, "store">;

/** An entry whose body is as newest amended, with the amendments that made it so, oldest first. */
export interface CurrentEntry<K extends EntryKind> {
  entry: LedgerEntry<K>;
  history: AmendmentView[];
}

/** All amendments in the ledger, by the sequence of the entry that they amend, oldest first. */
export function allAmendments(lab: Reader): Map<number, AmendmentView[]> {
  const found = new Map<number, AmendmentView[]>();
  for (const { sequence, at, actor, body } of lab.store.ledger.entries({ kind: "entry-amended" })) {
    const list = found.get(body.amends) ?? [];
    list.push({ sequence, at, by: actor, amendment: body });
    found.set(body.amends, list);
  }
  return found;
}

/** The body of an entry after its amendments. */
export function amendedBody<T>(body: T, history: readonly AmendmentView[]): T {
  return history.reduce(
    (now, { amendment }) =>
      withValueAt(
        now,
        pointerSteps(amendment.path),
        Object.hasOwn(amendment, "after") ? { there: true, value: amendment.after } : { there: false },
      ) as T,
    body,
  );
}

/**
 * The entries of one kind as newest amended, in order. Whoever shows or uses what people wrote reads it from here; whoever proves
 * the ledger reads the entries themselves.
 */
export function currentEntries<K extends EntryKind>(lab: Reader, kind: K): CurrentEntry<K>[] {
  const amendments = allAmendments(lab);
  return [...lab.store.ledger.entries<K>({ kind })].map((entry) => {
    const history = amendments.get(entry.sequence) ?? [];
    return { entry: { ...entry, body: amendedBody(entry.body, history) }, history };
  });
}

/** One entry as it stands, beside what was first written. */
export function amendedEntry(lab: Reader, { sequence, kind, at, actor, body }: LedgerEntry): AmendedEntry {
  const history = allAmendments(lab).get(sequence) ?? [];
  return { sequence, kind, at, by: actor, first: body, now: amendedBody(body, history), history };
}
