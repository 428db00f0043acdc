import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** Records that the handle of a specimen was operated: its as-found state ends here. */
export function moveHandle(lab: Lab, specimen: string, operations: number, note: string): void {
  knownSpecimen(lab, specimen);
  if (!Number.isInteger(operations) || operations < 1) {
    throw new InputError(`operations: found ${operations}; accepted is a whole number of 1 or more`);
  }
  lab.store.ledger.append("handle-moved", { specimen, operations, note }, originOf(lab));
}
