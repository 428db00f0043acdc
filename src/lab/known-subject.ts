import type { Subject } from "../contract/ledger-entries.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";
import { knownShot } from "./shot-view.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** Whether a job of that name was opened, or a specimen names it. */
export function isJob(lab: Pick<Lab, "store">, name: string): boolean {
  if (lab.store.records.specimens().some(({ details }) => details.job === name)) return true;
  for (const { body } of lab.store.ledger.entries({ kind: "job-opened" })) if (body.job === name) return true;
  return false;
}

/** @throws NotFoundError where there is no such specimen, shot or job */
export function knownSubject(lab: Pick<Lab, "store">, { kind, id }: Subject): void {
  if (kind === "specimen") knownSpecimen(lab, id);
  else if (kind === "shot") knownShot(lab, id);
  else if (!isJob(lab, id)) throw new NotFoundError(`there is no job "${id}"`);
}
