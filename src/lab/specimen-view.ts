import type { SpecimenView } from "../contract/http.ts";
import type { StoredSpecimen } from "../store/projections.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";

/** @throws NotFoundError where there is no such specimen */
export function knownSpecimen(lab: Pick<Lab, "store">, id: string): StoredSpecimen {
  const found = lab.store.specimen(id);
  if (found === undefined) throw new NotFoundError(`there is no specimen "${id}"`);
  return found;
}

const view = (specimen: StoredSpecimen): SpecimenView => ({
  id: specimen.id,
  details: specimen.details,
  receivedAt: specimen.receivedAt,
  state: specimen.state,
  shots: specimen.shots,
  lastResult: specimen.lastResult,
});

/** One specimen as page and command line show it. */
export const specimenView = (lab: Pick<Lab, "store">, id: string): SpecimenView =>
  view(knownSpecimen(lab, id));

/** All specimens, in the order in which they were received. */
export const specimenViews = (lab: Pick<Lab, "store">): SpecimenView[] => lab.store.specimens().map(view);
