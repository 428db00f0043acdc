import { useState } from "preact/hooks";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { JobView } from "../../src/contract/job-schema.ts";
import { type CaseSubject, SubjectChooser, subjectChoices } from "../custody/subject-chooser.tsx";
import { TextField } from "../forms/field.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { ExhibitForm } from "./exhibit-form.tsx";
import { PackageForm } from "./package-form.tsx";
import { SheetsForm } from "./sheets-form.tsx";

/** Exhibits: a document and a package of a specimen or of a whole job. */
export function ExhibitsPage({ rest }: { rest: string[] }) {
  const specimens = useResource<SpecimenView[]>(addresses.specimens);
  const jobs = useResource<JobView[]>(addresses.jobs);
  const [label, setLabel] = useState("");
  const [caseText, setCaseText] = useState("");
  const [kind, id] = rest;
  const subject: CaseSubject | null =
    id !== undefined && (kind === "specimen" || kind === "job") ? { kind, id } : null;
  const choices = subjectChoices(
    specimens.value ?? [],
    (jobs.value ?? []).filter((one) => one.specimens.length > 0),
  );
  const chosen = choices.find((one) => one.kind === subject?.kind && one.id === subject.id) ?? null;
  return (
    <div class="record">
      <h1>Exhibits</h1>
      <section class="panel" aria-label="Specimen or job">
        <ProblemNote problem={specimens.problem ?? jobs.problem} />
        <SubjectChooser
          choices={choices}
          chosen={subject}
          onChoose={(one) => (location.hash = routeTo("exhibits", one.kind, one.id))}
        />
        {subject !== null && (
          <p class="chosen" role="status">
            {chosen === null ? (
              specimens.value !== null &&
              jobs.value !== null &&
              `There is no ${subject.kind} "${subject.id}".`
            ) : (
              <>
                Chosen: <strong>{chosen.name}</strong>, {chosen.more}
              </>
            )}
          </p>
        )}
        <div class="fields">
          <TextField
            id="exhibit-label"
            label="Exhibit label"
            example="Exhibit A"
            value={label}
            onChange={setLabel}
          />
          <TextField
            id="exhibit-case"
            label="Case, as the court words it"
            value={caseText}
            onChange={setCaseText}
          />
        </div>
      </section>
      {subject !== null && chosen !== null && (
        <>
          <ExhibitForm
            key={`exhibit ${subject.kind} ${subject.id}`}
            {...{ subject, name: chosen.name, label, caseText }}
          />
          <SheetsForm key={`sheets ${subject.kind} ${subject.id}`} {...{ subject, name: chosen.name }} />
          <PackageForm
            key={`package ${subject.kind} ${subject.id}`}
            {...{ subject, name: chosen.name, label, caseText }}
          />
        </>
      )}
    </div>
  );
}
