import type { SeedingView } from "../contract/http.ts";
import { programmeFor } from "../core/limits/applicable-rows.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { BenchDesk } from "./bench-desk.ts";
import { demoJobs, demoSpecimens } from "./demo-specimens.ts";
import { jobViews, openJob } from "./jobs.ts";
import type { Lab } from "./lab.ts";
import { defaultLimitSet } from "./limit-library.ts";
import { findOrReceiveSpecimen } from "./receive-specimen.ts";

/** Name of the invented lab. */
export const demoLabName = "Demo lab (invented)";

/** Hold tests take hours of the rig's clock each; one specimen of each job shows one. */
const holdShownFor = new Set(["ML-01", "OC-05", "QW-01"]);

function pointsFor(lab: Lab, specimen: Specimen): TestPoint[] {
  return programmeFor(lab.limits.get(defaultLimitSet), specimen).filter(
    (point) => point.row.requirement.kind !== "hold-for" || holdShownFor.has(specimen.label),
  );
}

/**
 * Makes the demo lab: receives the invented specimens and truly runs their programmes through the emulated rig with a fast
 * clock. What an earlier start left undone is finished; what is done is not repeated.
 *
 * @param tell is called before every shot, and with null at the end
 */
export async function seedDemoLab(
  lab: Lab,
  tell: (progress: SeedingView | null) => void,
  stop: AbortSignal,
): Promise<void> {
  const opened = new Set(
    jobViews(lab).flatMap(({ job, opened: details }) => (details === null ? [] : [job])),
  );
  for (const job of demoJobs) if (!opened.has(job.job)) openJob(lab, { ...job, by: "demo" }, "demo job");
  const work = demoSpecimens.flatMap((details) => {
    const specimen = findOrReceiveSpecimen(lab, details);
    const made = lab.store.records.shots({ specimen });
    return pointsFor(lab, details)
      .filter(
        (point) => !made.some((shot) => shot.limitRow === point.row.id && shot.loading === point.loading),
      )
      .map((point) => ({ specimen, details, point }));
  });
  if (work.length === 0) return;
  const desk = new BenchDesk({ ...lab, actor: "demo" }, "emulated?speed=20000&seed=489");
  await desk.connect("emulated?speed=20000&seed=489");
  stop.addEventListener("abort", () => void desk.stop());
  try {
    for (const [done, { specimen, details, point }] of work.entries()) {
      if (stop.aborted) return;
      tell({
        done,
        total: work.length,
        doing: `${details.label}: ${formatMultiple(point.row.multiple)}, ${loadingWords(point.loading)}`,
      });
      await desk.run({
        specimen,
        limitSet: point.limitSet,
        multiple: point.row.multiple,
        loading: point.loading,
      });
    }
  } finally {
    await desk.close();
    tell(null);
  }
}
