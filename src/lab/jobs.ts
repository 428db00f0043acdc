import { type JobView, jobInput } from "../contract/job-schema.ts";
import type { JobDetails } from "../contract/ledger-entries.ts";
import { amendmentCounts } from "./amendment-counts.ts";
import { currentEntries } from "./amendments-current.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import { checkJobDays } from "./jobs-checks.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";

/**
 * Opens a job. Specimens that name it may have been received before.
 *
 * @throws InputError naming every field that is wrong; where a job of that name is open already. Nothing is stored then
 */
export function openJob(lab: Lab, value: unknown, where: string): JobView {
  const { by, ...input } = checkAgainstSchema(jobInput, value, where);
  const details: JobDetails = {
    ...input,
    clientReference: input.clientReference ?? null,
    removedBy: input.removedBy ?? null,
    authority: input.authority ?? null,
    circumstances: input.circumstances ?? "",
    panels: input.panels ?? [],
  };
  checkJobDays(lab, details, where);
  const twin = [...lab.store.ledger.entries({ kind: "job-opened" })].find(
    ({ body }) => body.job === details.job,
  );
  if (twin !== undefined) {
    const problem = `"${details.job}" was opened by entry ${twin.sequence}; amend that entry where it is wrong`;
    throw new InputError(`${where}: job: ${problem}`, [{ field: "job", problem }]);
  }
  lab.store.ledger.append("job-opened", details, originOf(lab, by));
  return jobView(lab, details.job);
}

/** Every job that was opened or that a specimen names: opened ones first, in their order. */
export function jobViews(lab: Pick<Lab, "store">): JobView[] {
  const specimens = lab.store.records.specimens();
  const amendments = amendmentCounts(lab);
  const opened = new Map(
    currentEntries(lab, "job-opened").map(({ entry, history }): [string, NonNullable<JobView["opened"]>] => [
      entry.body.job,
      {
        sequence: entry.sequence,
        at: entry.at,
        by: entry.actor,
        details: entry.body,
        amendments: history.length,
      },
    ]),
  );
  const names = new Set([...opened.keys(), ...specimens.flatMap((one) => one.details.job ?? [])]);
  return [...names].map((job) => {
    const own = specimens.filter((one) => one.details.job === job);
    const record = opened.get(job) ?? null;
    return {
      job,
      opened: record,
      specimens: own.map(({ specimen, details, shots }) => ({
        ...{ id: specimen, label: details.label, shots, amendments: amendments.of(specimen) },
        ...{ panel: details.panel ?? null, circuit: details.circuit ?? null },
      })),
      remarks: remarks(job, record?.details ?? null, own),
    };
  });
}

/** @throws NotFoundError for a name that neither a job nor a specimen has */
export function jobView(lab: Pick<Lab, "store">, job: string): JobView {
  const found = jobViews(lab).find((one) => one.job === job);
  if (found === undefined) throw new NotFoundError(`there is no job "${job}"`);
  return found;
}

function remarks(
  job: string,
  details: JobDetails | null,
  specimens: readonly { details: { label: string; panel?: string } }[],
): string[] {
  if (details === null)
    return [`Specimens name the job "${job}", but it was never opened: site and authority are not recorded.`];
  const strangers = specimens.flatMap(({ details: { label, panel } }) =>
    panel !== undefined && details.panels.length > 0 && !details.panels.includes(panel)
      ? [`Specimen ${label} is of panel "${panel}", which the job does not name.`]
      : [],
  );
  return specimens.length === 0 ? ["No specimen names this job yet."] : strangers;
}
