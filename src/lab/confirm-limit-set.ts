import type { ConfirmationView, ConfirmedLimitSetView, ConfirmLimitSet } from "../contract/confirmation.ts";
import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import type { LimitSet } from "../core/limits/limit-set.ts";
import { currentEntries } from "./amendments-current.ts";
import { dayOf, isDay } from "./calibrations.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** Identifiers of all rows, test points and instantaneous ones. */
const rowIds = (set: LimitSet): string[] => [...set.rows, ...(set.instantaneous ?? [])].map((row) => row.id);

/**
 * Writes down that the lab compared rows of a limit set with its own copy of the document.
 *
 * @throws InputError where set, rows or date are not such; it names what there is, and nothing is stored
 */
export function confirmLimitSet(
  lab: Lab,
  limitSet: string,
  { rows, document, edition, by, on, note }: ConfirmLimitSet,
): EntryBodies["limit-set-confirmed"] {
  const known = rowIds(lab.limits.get(limitSet));
  const named = rows === undefined ? known : [...new Set(rows)];
  const fields: { field: string; problem: string }[] = [];
  const unknown = named.filter((row) => !known.includes(row));
  if (unknown.length > 0)
    fields.push({
      field: "rows",
      problem: `found ${unknown.join(", ")}; ${limitSet} has ${known.join(", ")}`,
    });
  if (named.length === 0)
    fields.push({ field: "rows", problem: `found none; ${limitSet} has ${known.join(", ") || "none"}` });
  for (const [field, text] of Object.entries({ document, edition, by })) {
    if (text.trim() === "") fields.push({ field, problem: "is empty" });
  }
  const today = dayOf(lab.now());
  const day = on ?? today;
  if (!isDay(day)) fields.push({ field: "on", problem: `found ${day}; accepted is a day, YYYY-MM-DD` });
  else if (day > today) fields.push({ field: "on", problem: `${day} lies ahead; today is ${today}` });
  if (fields.length > 0) {
    const words = fields.map((one) => `${one.field}: ${one.problem}`).join("; ");
    throw new InputError(`confirmation of ${limitSet}: ${words}`, fields);
  }
  const body: EntryBodies["limit-set-confirmed"] = {
    limitSet,
    limitSetHash: lab.limits.hashOf(limitSet),
    document,
    edition,
    rows: named,
    by,
    on: day,
    note: note ?? "",
  };
  lab.store.ledger.append("limit-set-confirmed", body, originOf(lab));
  return body;
}

/** Every confirmation of a set, in order. One holds only while the set is, bit for bit, the one that was confirmed. */
export function confirmationsOf(lab: Pick<Lab, "store" | "limits">, limitSet: string): ConfirmationView[] {
  const hash = lab.limits.hashOf(limitSet);
  return currentEntries(lab, "limit-set-confirmed")
    .map(({ entry }) => entry)
    .filter(({ body }) => body.limitSet === limitSet)
    .map(({ body }) => ({ ...body, holds: body.limitSetHash === hash }));
}

/** Whether the lab has confirmed one row of a set as it stands. */
export function isConfirmed(lab: Pick<Lab, "store" | "limits">, limitSet: string, row: string): boolean {
  return confirmationsOf(lab, limitSet).some((one) => one.holds && one.rows.includes(row));
}

/** A limit set with what the lab has confirmed of it. */
export function limitSetView(lab: Pick<Lab, "store" | "limits">, set: LimitSet): ConfirmedLimitSetView {
  const confirmations = confirmationsOf(lab, set.id);
  const held = new Set(confirmations.filter((one) => one.holds).flatMap((one) => one.rows));
  const rows = rowIds(set);
  const confirmedRows = rows.filter((row) => held.has(row));
  return {
    set,
    confirmed: rows.length > 0 && confirmedRows.length === rows.length,
    confirmedRows,
    confirmations,
  };
}

/** In words, the confirmation that stood behind a shot's row when it was opened; null where there was none. */
export function confirmationBehind(
  lab: Pick<Lab, "store">,
  { sequence, body: opened }: LedgerEntry<"shot-opened">,
): string | null {
  let words: string | null = null;
  for (const entry of lab.store.ledger.entries<"limit-set-confirmed">({ kind: "limit-set-confirmed" })) {
    const { limitSetHash, rows, by, on, document, edition } = entry.body;
    if (entry.sequence > sequence) break;
    if (limitSetHash === opened.limitSetHash && rows.includes(opened.row.id))
      words = `compared by ${by} on ${on} with the lab's own copy of ${document}, ${edition} (entry ${entry.sequence})`;
  }
  return words;
}
