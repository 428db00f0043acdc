import { type AmendedEntry, amendmentInput } from "../contract/amendment-schema.ts";
import type { EntryBodies, EntryKind, LedgerEntry } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { type Found, pointerSteps, valueAt, withValueAt } from "../core/evidence/json-pointer.ts";
import { checkAmendedBody } from "./amendments-checks.ts";
import { amendedEntry } from "./amendments-current.ts";
import { refusalToAmend } from "./amendments-fixed.ts";
import { subjectOf } from "./amendments-subject.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";

/** @throws NotFoundError where the ledger has no such entry */
export function knownEntry(lab: Pick<Lab, "store">, sequence: number): LedgerEntry {
  const entry = Number.isSafeInteger(sequence) ? lab.store.ledger.entry(sequence) : null;
  if (entry === null) throw new NotFoundError(`there is no entry ${sequence} in the ledger`);
  return entry;
}

/** An entry as newest amended, with its history. @throws NotFoundError */
export const amendmentView = (lab: Pick<Lab, "store">, sequence: number): AmendedEntry =>
  amendedEntry(lab, knownEntry(lab, sequence));

/** Every amended entry, or those about one specimen, shot or job, in the order of the entries. */
export function amendmentViews(lab: Pick<Lab, "store">, id?: string): AmendedEntry[] {
  const amended = new Set<number>();
  for (const { body } of lab.store.ledger.entries({ kind: "entry-amended" }))
    if (id === undefined || body.about?.id === id) amended.add(body.amends);
  return [...amended].sort((a, b) => a - b).map((sequence) => amendmentView(lab, sequence));
}

/**
 * Corrects one field of an earlier entry by a new entry, which keeps the old value. What was written first stays in the ledger.
 *
 * @throws NotFoundError for an unknown entry; InputError for a place that is not there, an old value that does not match, a value
 * that the field does not accept, and entries or fields that are not amended, saying what to do instead. Nothing is stored then
 */
export function amendEntry(lab: Lab, value: unknown, where: string): AmendedEntry {
  const input = checkAgainstSchema(amendmentInput, value, where);
  const entry = knownEntry(lab, input.entry);
  const { path } = input;
  const refuse = (field: string, problem: string): never => {
    throw new InputError(`${where}: ${field}: ${problem}`, [{ field, problem }]);
  };
  const refusal = refusalToAmend(entry, path);
  if (refusal !== null) refuse("path", refusal);
  const steps = pointerSteps(path);
  const { now } = amendedEntry(lab, entry);
  const found = valueAt(now, steps);
  const claimed = given(input, "before");
  const next = given(input, "after");
  if (!found.there && (claimed.there || !valueAt(now, steps.slice(0, -1)).there || !next.there))
    refuse(
      "path",
      `entry ${entry.sequence} (${entry.kind}) has nothing at ${path}; ${whatIsThere(now, steps)}`,
    );
  if (found.there && !claimed.there)
    refuse("before", `is missing; ${path} of entry ${entry.sequence} is ${shown(found)}`);
  if (found.there && claimed.there && textOf(found) !== textOf(claimed))
    refuse("before", `found ${shown(claimed)}; ${path} of entry ${entry.sequence} is ${shown(found)}`);
  if (textOf(found) === textOf(next)) refuse("after", `is what stands there already: ${shown(found)}`);
  const body = changed(now, steps, next, (problem) => refuse("path", problem));
  checkAmendedBody(lab, entry, body, { path, found, next, where });
  const amendment: EntryBodies["entry-amended"] = {
    amends: entry.sequence,
    kind: entry.kind as EntryKind,
    about: subjectOf({ ...entry, body: now as LedgerEntry["body"] }),
    path,
    ...(claimed.there ? { before: claimed.value } : {}),
    ...(next.there ? { after: next.value } : {}),
    why: input.why,
  };
  lab.store.ledger.append("entry-amended", amendment, originOf(lab, input.by));
  return amendmentView(lab, entry.sequence);
}

function given(input: { before?: unknown; after?: unknown }, name: "before" | "after"): Found {
  return Object.hasOwn(input, name) && input[name] !== undefined
    ? { there: true, value: input[name] }
    : { there: false };
}

/** Text that is the same for the same value; empty for nothing. */
const textOf = (found: Found): string => (found.there ? canonicalJson(found.value) : "");

const shown = (found: Found): string =>
  found.there ? (JSON.stringify(found.value) ?? "").slice(0, 200) : "not there";

/** Names what stands where the way to a place ends. */
function whatIsThere(now: unknown, steps: readonly string[]): string {
  for (let length = steps.length - 1; length >= 0; length -= 1) {
    const found = valueAt(now, steps.slice(0, length));
    if (!found.there) continue;
    const place = length === 0 ? "its body" : `/${steps.slice(0, length).join("/")}`;
    return typeof found.value === "object" && found.value !== null
      ? `${place} has ${Object.keys(found.value).slice(0, 30).join(", ") || "nothing"}`
      : `${place} is ${shown(found)}`;
  }
  return "";
}

function changed(now: unknown, steps: readonly string[], next: Found, refuse: (problem: string) => never) {
  try {
    return withValueAt(now, steps, next);
  } catch (error) {
    return refuse((error as Error).message);
  }
}
