import type { LabView } from "../../src/contract/http.ts";
import type { StudyView } from "../../src/contract/studies.ts";
import { CautionLine } from "../frame/caution-line.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { ImportForm } from "./import-form.tsx";
import { PoolPanel } from "./pool-panel.tsx";
import { StudyTable } from "./study-table.tsx";

/** Published studies: looked through, pooled, and imported. */
export function StudiesPage() {
  const lab = useResource<LabView>(addresses.lab);
  const studies = useResource<StudyView[]>(addresses.studies);
  const all = studies.value ?? [];
  return (
    <div class="record">
      <h1>Studies</h1>
      <CautionLine words={lab.value?.rateCaution ?? ""} />
      <section class="panel" aria-labelledby="studies-title">
        <h2 id="studies-title">Recorded studies</h2>
        <ProblemNote problem={studies.problem} />
        {studies.loading && <p class="empty">Reading the studies.</p>}
        {studies.value !== null && all.length === 0 && (
          <p>None is recorded yet. Import a file of counts below.</p>
        )}
        {all.length > 0 && <StudyTable studies={all} />}
      </section>
      {studies.value !== null && <PoolPanel studies={all} />}
      <ImportForm onImported={studies.reload} />
    </div>
  );
}
