import type { LedgerEntry, ReviewSubject, Subject } from "../contract/ledger-entries.ts";
import { allAmendments, amendedBody } from "./amendments-current.ts";
import { subjectOf } from "./amendments-subject.ts";
import { knownSubject } from "./known-subject.ts";
import type { Lab } from "./lab.ts";
import { knownShot } from "./shot-view.ts";
import { knownSpecimen } from "./specimen-view.ts";

/**
 * Entries that make up the record of a shot or a specimen, in order. Of a shot: its opening and closing, what its specimen is,
 * and the amendments of those. Of a specimen: everything about it, its shots and its job. Reviews and releases are not among
 * them.
 *
 * @throws NotFoundError
 */
export function recordEntries(lab: Pick<Lab, "store">, about: ReviewSubject): LedgerEntry[] {
  knownSubject(lab, about);
  const amendments = allAmendments(lab);
  const mine = (subject: Subject | null, kind: LedgerEntry["kind"]): boolean => {
    if (subject === null) return false;
    if (about.kind === "shot")
      return subject.id === about.id || (kind === "specimen-received" && subject.id === specimen);
    return subject.id === specimen || shots.has(subject.id) || (subject.kind === "job" && subject.id === job);
  };
  const specimen = about.kind === "specimen" ? about.id : knownShot(lab, about.id).opened.body.specimen;
  const { job } = knownSpecimen(lab, specimen).details;
  const shots = new Set(lab.store.records.shots({ specimen }).map((one) => one.shot));
  const own: LedgerEntry[] = [];
  const sequences = new Set<number>();
  for (const entry of lab.store.ledger.entries()) {
    if (entry.kind === "record-reviewed" || entry.kind === "record-released") continue;
    const belongs =
      entry.kind === "entry-amended"
        ? sequences.has((entry as LedgerEntry<"entry-amended">).body.amends)
        : mine(subjectOf(nowOf(entry, amendments)), entry.kind);
    if (!belongs) continue;
    own.push(entry);
    sequences.add(entry.sequence);
  }
  return own;
}

function nowOf(entry: LedgerEntry, amendments: ReturnType<typeof allAmendments>): LedgerEntry {
  const history = amendments.get(entry.sequence);
  return history === undefined ? entry : { ...entry, body: amendedBody(entry.body, history) };
}
