import type { SpecimenView } from "../contract/http.ts";
import { overallResult } from "../core/limits/overall-result.ts";
import type { SpecimenRecord } from "../store/records.ts";
import { type AmendmentCounts, amendmentCounts } from "./amendment-counts.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";

/** @throws NotFoundError where there is no such specimen */
export function knownSpecimen(lab: Pick<Lab, "store">, id: string): SpecimenRecord {
  const found = lab.store.records.specimen(id);
  if (found === null) throw new NotFoundError(`there is no specimen "${id}"`);
  return found;
}

const view = (
  lab: Pick<Lab, "store">,
  specimen: SpecimenRecord,
  amendments: AmendmentCounts,
): SpecimenView => ({
  id: specimen.specimen,
  entry: specimen.sequence,
  details: specimen.details,
  receivedAt: specimen.receivedAt,
  state: specimen.state,
  shots: specimen.shots,
  result: overallResult(lab.store.records.shots({ specimen: specimen.specimen }).map((shot) => shot.result)),
  amendments: amendments.of(specimen.specimen),
});

/** One specimen as page and command line show it. */
export const specimenView = (lab: Pick<Lab, "store">, id: string): SpecimenView =>
  view(lab, knownSpecimen(lab, id), amendmentCounts(lab));

/** All specimens, in the order in which they were received. */
export function specimenViews(lab: Pick<Lab, "store">): SpecimenView[] {
  const amendments = amendmentCounts(lab);
  return lab.store.records.specimens().map((specimen) => view(lab, specimen, amendments));
}
