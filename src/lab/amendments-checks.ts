import Type from "typebox";
import { calibrationBody } from "../contract/calibration-schema.ts";
import { custodyRecord } from "../contract/custody-schema.ts";
import { gateRecord } from "../contract/gate-schema.ts";
import { jobRecord } from "../contract/job-schema.ts";
import type { EntryBodies, EntryKind, LedgerEntry } from "../contract/ledger-entries.ts";
import { photographRecord } from "../contract/photograph-schema.ts";
import { specimenSchema } from "../contract/specimen-schema.ts";
import type { Found } from "../core/evidence/json-pointer.ts";
import type { OperationState } from "../core/specimen/specimen.ts";
import { calibrationProblems, dayOf } from "./calibrations.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { checkCustodyEvent } from "./custody-checks.ts";
import { InputError } from "./input-error.ts";
import { checkJobDays } from "./jobs-checks.ts";
import { knownSubject } from "./known-subject.ts";
import type { Lab } from "./lab.ts";

const whole = Type.Integer({ minimum: 1, maximum: 1000, description: "how many times the handle was moved" });

/** What the whole body must be after an amendment, where there is a schema for it. */
const bodies: { readonly [K in EntryKind]?: Type.TSchema } = {
  "specimen-received": Type.Object(
    { specimen: Type.String(), details: specimenSchema },
    { additionalProperties: false },
  ),
  "handle-moved": Type.Object(
    { specimen: Type.String(), operations: whole, note: Type.String({ maxLength: 4000 }) },
    { additionalProperties: false },
  ),
  "calibration-recorded": calibrationBody,
  "job-opened": jobRecord,
  "custody-moved": custodyRecord,
  "photograph-added": photographRecord,
  "gate-passed": gateRecord,
};

interface Change {
  path: string;
  found: Found;
  next: Found;
  where: string;
}

/**
 * Checks what an entry's body would be after an amendment, as it was checked when it was first written.
 *
 * @throws InputError naming the field, what was found and what is accepted
 */
export function checkAmendedBody(lab: Lab, entry: LedgerEntry, body: unknown, change: Change): void {
  const { where } = change;
  const schema = bodies[entry.kind];
  if (schema !== undefined) checkAgainstSchema(schema, body, where);
  else checkSameKind(change);
  if (entry.kind === "specimen-received") checkLabel(lab, body as EntryBodies["specimen-received"], where);
  if (entry.kind === "shot-opened") checkState(lab, entry as LedgerEntry<"shot-opened">, change);
  if (entry.kind === "job-opened") checkJobDays(lab, body as EntryBodies["job-opened"], where);
  if (entry.kind === "custody-moved") {
    const event = body as EntryBodies["custody-moved"];
    knownSubject(lab, event.about);
    checkCustodyEvent(event, entry.at, where);
  }
  if (entry.kind === "calibration-recorded") {
    const problems = calibrationProblems(body as EntryBodies["calibration-recorded"], dayOf(lab.now()));
    refuseAll(problems, where);
  }
  if (entry.kind === "study-recorded") checkCounts(body as EntryBodies["study-recorded"], where);
  if (entry.kind === "photograph-added") knownSubject(lab, (body as EntryBodies["photograph-added"]).about);
}

function checkLabel(lab: Lab, { specimen, details }: EntryBodies["specimen-received"], where: string): void {
  const namesake = lab.store.records.specimenByLabel(details.label);
  if (namesake === null || namesake.specimen === specimen) return;
  const problem = `"${details.label}" already names specimen ${namesake.specimen}; a label is unique in one ledger`;
  throw new InputError(`${where}: label: ${problem}`, [{ field: "label", problem }]);
}

function checkCounts({ study: { tested, failed } }: EntryBodies["study-recorded"], where: string): void {
  const fits = [tested, failed].every((count) => Number.isSafeInteger(count) && count >= 0);
  if (fits && tested >= 1 && failed <= tested) return;
  const problem = `found ${failed} failed of ${tested} tested; accepted are whole numbers, 1 or more tested, no more failed than tested`;
  refuseAll([{ field: "after", problem }], where);
}

function refuseAll(fields: readonly { field: string; problem: string }[], where: string): void {
  if (fields.length === 0) return;
  throw new InputError(`${where}: ${fields.map((one) => `${one.field}: ${one.problem}`).join("; ")}`, fields);
}

function checkState(lab: Lab, entry: LedgerEntry<"shot-opened">, { next, where }: Change): void {
  const state = next.there ? (next.value as OperationState | null) : null;
  const fits =
    state !== null &&
    typeof state === "object" &&
    ((state.kind === "as-found" && Object.keys(state).length === 1) ||
      (state.kind === "exercised" &&
        Object.keys(state).length === 2 &&
        Number.isSafeInteger(state.operations) &&
        state.operations >= 0));
  const first = lab.store.records.shots({ specimen: entry.body.specimen }).at(-1);
  if (fits && state.kind === "as-found" && first !== undefined && first.sequence < entry.sequence) {
    const problem = `shot ${first.shot} came before it; only the first shot of a specimen can be as found`;
    throw new InputError(`${where}: after: ${problem}`, [{ field: "after", problem }]);
  }
  if (fits) return;
  const problem = `found ${JSON.stringify(state)}; accepted: {"kind":"as-found"} or {"kind":"exercised","operations":N}`;
  throw new InputError(`${where}: after: ${problem}`, [{ field: "after", problem }]);
}

const kindOf = (value: unknown): string =>
  value === null ? "null" : Array.isArray(value) ? "list" : typeof value;

/** Where no schema speaks of a field, it keeps its kind of value; one that is null may become a text or a number. */
function checkSameKind({ path, found, next, where }: Change): void {
  if (!found.there || !next.there) {
    const problem = `fields of this kind of entry are neither added nor taken away`;
    throw new InputError(`${where}: path: ${path}: ${problem}`, [{ field: "path", problem }]);
  }
  const [was, is] = [kindOf(found.value), kindOf(next.value)];
  if (was === is || (was === "null" && (is === "string" || is === "number"))) return;
  const problem = `found a ${is}; accepted at ${path} is a ${was}`;
  throw new InputError(`${where}: after: ${problem}`, [{ field: "after", problem }]);
}
