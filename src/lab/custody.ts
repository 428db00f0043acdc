import { type CustodyChain, type CustodyLine, custodyInput } from "../contract/custody-schema.ts";
import type { CustodyEvent, LedgerEntry, Subject } from "../contract/ledger-entries.ts";
import { currentEntries } from "./amendments-current.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { checkCustodyEvent, utcMoment } from "./custody-checks.ts";
import { custodyRemarks } from "./custody-remarks.ts";
import { originOf } from "./entry-origin.ts";
import { knownSubject } from "./known-subject.ts";
import type { Lab } from "./lab.ts";
import { knownSpecimen } from "./specimen-view.ts";

/**
 * Records one event in the custody of a specimen, or of all specimens of a job.
 *
 * @throws InputError naming every field that is wrong; NotFoundError for an unknown specimen or job. Nothing is stored then
 */
export function addCustodyEvent(lab: Lab, value: unknown, where: string): CustodyLine {
  const { by, ...input } = checkAgainstSchema(custodyInput, value, where);
  knownSubject(lab, input.about);
  const event: CustodyEvent = {
    ...input,
    observedAt: utcMoment(input.observedAt, "observedAt", where),
    observedUntil:
      input.observedUntil === undefined ? null : utcMoment(input.observedUntil, "observedUntil", where),
    seals: input.seals ?? [],
    condition: input.condition ?? "",
    note: input.note ?? "",
  };
  const at = lab.now().toISOString();
  checkCustodyEvent(event, at, where);
  const entry = lab.store.ledger.append("custody-moved", event, { ...originOf(lab, by), at });
  return lineOf(entry, event, 0);
}

/**
 * The chain of custody of a specimen, with what was recorded of its job, or of a job alone: in the order of what was observed,
 * with gaps and overlaps pointed out.
 *
 * @throws NotFoundError for an unknown specimen or job
 */
export function custodyChain(lab: Pick<Lab, "store">, about: CustodyChain["about"]): CustodyChain {
  knownSubject(lab, about);
  const job = about.kind === "specimen" ? knownSpecimen(lab, about.id).details.job : undefined;
  const belongs = (subject: Subject) =>
    (subject.kind === about.kind && subject.id === about.id) ||
    (subject.kind === "job" && subject.id === job);
  const lines = currentEntries(lab, "custody-moved")
    .filter(({ entry }) => belongs(entry.body.about))
    .map(({ entry, history }) => lineOf(entry, entry.body, history.length))
    .sort(
      (a, b) => Date.parse(a.event.observedAt) - Date.parse(b.event.observedAt) || a.sequence - b.sequence,
    );
  const shots = about.kind === "specimen" ? lab.store.records.shots({ specimen: about.id }) : [];
  return { about, holder: lines.at(-1)?.event.to ?? null, lines, remarks: custodyRemarks(lines, shots) };
}

function lineOf(
  { sequence, at: enteredAt, actor: by, signIn }: LedgerEntry,
  event: CustodyEvent,
  amendments: number,
): CustodyLine {
  const lateSeconds = Math.max(0, Math.round((Date.parse(enteredAt) - Date.parse(event.observedAt)) / 1000));
  const signed = signIn === undefined ? {} : { signIn };
  return { sequence, enteredAt, by, ...signed, lateSeconds, amendments, event };
}
