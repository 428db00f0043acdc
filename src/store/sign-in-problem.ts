import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";

/**
 * What is wrong with the sign-in that an entry names, or null: it must be an earlier entry in which the same person signed in.
 *
 * @param named the entry with the sequence `entry.signIn`, or null where there is none
 */
export function signInProblem(
  named: LedgerEntry | null,
  entry: { sequence: number; actor: string; signIn: number },
): string | null {
  const says = `entry ${entry.sequence} says that ${entry.actor} had signed in by entry ${entry.signIn}`;
  if (named === null || named.sequence >= entry.sequence) return `${says}, which is not before it`;
  if (named.kind !== "signed-in") return `${says}, which is of kind ${named.kind}`;
  const { person } = named.body as EntryBodies["signed-in"];
  return person === entry.actor ? null : `${says}, by which ${person} did`;
}
