import { renderLabels } from "../exhibit/pdf/render-labels.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { stationOf } from "./open-lab.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** Labels are printed at most so many at a time. */
const mostLabels = 3000;

/**
 * Sheets of labels for specimens, in the order in which they were received, as PDF. The same records give the same bytes.
 *
 * @param which specimens by identifier or label, all of a job, or all there are
 * @param skip places at the start of the first sheet to leave empty, 0 to 29
 * @throws NotFoundError for an unknown specimen, InputError for a job without specimens or a place that is not on a sheet
 */
export async function makeLabels(
  lab: Pick<Lab, "store">,
  which: { specimens: readonly string[] } | { job: string } | "all",
  skip = 0,
): Promise<{ pdf: Uint8Array; labels: number }> {
  const { records } = lab.store;
  const chosen =
    typeof which === "object" && "specimens" in which
      ? new Set(
          which.specimens.map((name) => (records.specimenByLabel(name) ?? knownSpecimen(lab, name)).specimen),
        )
      : null;
  const found = records
    .specimens()
    .filter(
      ({ specimen, details }) =>
        which === "all" || ("job" in which ? details.job === which.job : chosen?.has(specimen) === true),
    );
  if (found.length === 0)
    throw new InputError(
      typeof which === "object" && "job" in which
        ? `there is no specimen of job "${which.job}"`
        : "there is no specimen to label",
    );
  if (found.length > mostLabels)
    throw new InputError(`found ${found.length} specimens; accepted are up to ${mostLabels} at a time`);
  if (!Number.isInteger(skip) || skip < 0 || skip > 29)
    throw new InputError(`skip: found ${skip}; accepted is a whole number from 0 to 29`);
  const { lab: name, station, openedAt } = stationOf(lab);
  const pdf = await renderLabels({
    lab: name,
    station,
    dated: new Date(found.at(-1)?.receivedAt ?? openedAt),
    skip,
    labels: found.map(({ specimen, details, demo }) => ({
      ...{ specimen, label: details.label, ratedAmps: details.ratedAmps },
      ...{ poles: details.poles, volts: details.volts, demo },
    })),
  });
  return { pdf, labels: found.length };
}
