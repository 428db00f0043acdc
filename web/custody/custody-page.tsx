import type { CustodyChain } from "../../src/contract/custody-schema.ts";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { JobView } from "../../src/contract/job-schema.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { AmendmentsPanel } from "./amendments-panel.tsx";
import { ChainPanel } from "./chain-panel.tsx";
import { GatePanel } from "./gate-panel.tsx";
import { PhotographsPanel } from "./photographs-panel.tsx";
import { ReviewPanel } from "./review-panel.tsx";
import { type CaseSubject, SubjectChooser, subjectChoices } from "./subject-chooser.tsx";

/** Custody, photographs, gate, amendments and review of one specimen; or custody and photographs of a job. */
export function CustodyPage({ rest }: { rest: string[] }) {
  const specimens = useResource<SpecimenView[]>(addresses.specimens);
  const jobs = useResource<JobView[]>(addresses.jobs);
  const [kind, id] = rest;
  const subject: CaseSubject | null =
    id !== undefined && (kind === "specimen" || kind === "job") ? { kind, id } : null;
  return (
    <div class="record">
      <h1>Custody</h1>
      <section class="panel" aria-label="Specimen or job">
        <ProblemNote problem={specimens.problem ?? jobs.problem} />
        <SubjectChooser
          choices={subjectChoices(specimens.value ?? [], jobs.value ?? [])}
          chosen={subject}
          onChoose={(one) => (location.hash = routeTo("custody", one.kind, one.id))}
        />
      </section>
      {subject !== null && (
        <SubjectCustody
          key={`${subject.kind} ${subject.id}`}
          subject={subject}
          specimen={specimens.value?.find((one) => one.id === subject.id) ?? null}
          historyWanted={rest[2] === "amendments"}
        />
      )}
    </div>
  );
}

function SubjectCustody({
  subject,
  specimen,
  historyWanted,
}: {
  subject: CaseSubject;
  specimen: SpecimenView | null;
  historyWanted: boolean;
}) {
  const chain = useResource<CustodyChain>(addresses.custody(subject));
  const isSpecimen = subject.kind === "specimen";
  const job = specimen?.details.job;
  return (
    <>
      <header class="shot-head">
        <h2 class="subject-title">
          {isSpecimen ? (specimen?.details.label ?? subject.id) : `Job ${subject.id}`}
        </h2>
        <nav class="shot-back" aria-label="To the same elsewhere">
          {isSpecimen && (
            <a class="open" href={routeTo("specimens", subject.id)}>
              Its tests and origin
            </a>
          )}
          {job !== undefined && (
            <a class="open" href={routeTo("custody", "job", job)}>
              Custody of its job, {job}
            </a>
          )}
          {!isSpecimen && (
            <a class="open" href={routeTo("jobs", subject.id)}>
              The job
            </a>
          )}
          <a class="open" href={routeTo("exhibits", subject.kind, subject.id)}>
            Exhibit or package
          </a>
        </nav>
      </header>
      <ProblemNote problem={chain.problem} />
      {chain.value !== null && <ChainPanel chain={chain.value} onRecorded={chain.reload} />}
      {chain.value !== null && <PhotographsPanel subject={subject} />}
      {isSpecimen && chain.value !== null && (
        <>
          <GatePanel specimen={subject.id} />
          <AmendmentsPanel about={{ kind: "specimen", id: subject.id }} wanted={historyWanted} />
          <ReviewPanel about={{ kind: "specimen", id: subject.id }} />
        </>
      )}
    </>
  );
}
