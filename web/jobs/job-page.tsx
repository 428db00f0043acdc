import type { JobView } from "../../src/contract/job-schema.ts";
import { AmendedMark } from "../custody/amended-mark.tsx";
import { WarningGlyph } from "../frame/banners.tsx";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { AlikeForm } from "./alike-form.tsx";
import { JobForm } from "./job-form.tsx";

/** One job: what is told of it, its specimens, and the fast entry of more. */
export function JobPage({ name }: { name: string }) {
  const job = useResource<JobView>(addresses.job(name));
  const view = job.value;
  return (
    <article class="record" aria-labelledby="job-title">
      <nav aria-label="Back" class="shot-back">
        <a class="open" href={routeTo("jobs")}>
          All jobs
        </a>
        <a class="open" href={routeTo("custody", "job", name)}>
          Its custody
        </a>
        <a class="open" href={routeTo("exhibits", "job", name)}>
          Exhibit or package
        </a>
      </nav>
      <h1 id="job-title">{name}</h1>
      <ProblemNote problem={job.problem} />
      {job.loading && <p class="empty">Reading the job.</p>}
      {view !== null && (
        <>
          {view.remarks.map((remark) => (
            <p key={remark} class="problem">
              <WarningGlyph />
              <span>{remark}</span>
            </p>
          ))}
          {view.opened === null ? (
            <section class="panel" aria-labelledby="open-job-title">
              <h2 id="open-job-title">Open it now</h2>
              <JobForm name={name} onOpened={job.reload} />
            </section>
          ) : (
            <JobFacts opened={view.opened} />
          )}
          <section class="panel" aria-labelledby="job-specimens-title">
            <h2 id="job-specimens-title">Specimens ({view.specimens.length})</h2>
            {view.specimens.length > 0 && <SpecimenTable specimens={view.specimens} />}
          </section>
          <AlikeForm job={name} panels={view.opened?.details.panels ?? []} onReceived={job.reload} />
        </>
      )}
    </article>
  );
}

function JobFacts({ opened }: { opened: NonNullable<JobView["opened"]> }) {
  const { details, sequence, at, by, amendments } = opened;
  const facts = [
    ["Site", details.site],
    ["Removed on", details.on],
    ["Removed by", details.removedBy ?? "not told"],
    ["On whose authority", details.authority ?? "not told"],
    ["Client's reference", details.clientReference ?? "not told"],
    ["Why and how", details.circumstances === "" ? "not told" : details.circumstances],
    ["Panels", details.panels.length === 0 ? "not told" : details.panels.join(", ")],
  ] as const;
  return (
    <section class="panel" aria-labelledby="job-facts-title">
      <h2 id="job-facts-title">What is told of it</h2>
      <dl class="facts facts-wide">
        {facts.map(([what, words]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <p class="hint">
        Opened {momentWords(at)} by {by}, <a href={routeTo("ledger", String(sequence))}>entry {sequence}</a>,
        where a field can be corrected.{" "}
        <AmendedMark count={amendments} name={details.job} href={routeTo("ledger", String(sequence))} />
      </p>
    </section>
  );
}

function SpecimenTable({ specimens }: { specimens: JobView["specimens"] }) {
  return (
    <div class="table-frame">
      <table class="lined">
        <thead>
          <tr>
            <th scope="col">Specimen</th>
            <th scope="col">Panel</th>
            <th scope="col">Circuit</th>
            <th scope="col" class="number">
              Tests
            </th>
            <th scope="col">Further</th>
          </tr>
        </thead>
        <tbody onKeyDown={moveWithArrows("th .open")}>
          {specimens.map(({ id, label, panel, circuit, shots, amendments }) => (
            <tr key={id}>
              <th scope="row">
                <a class="open" href={routeTo("specimens", id)}>
                  {label}
                </a>{" "}
                <AmendedMark
                  count={amendments}
                  name={label}
                  href={routeTo("custody", "specimen", id, "amendments")}
                />
              </th>
              <td>{panel ?? "not told"}</td>
              <td>{circuit ?? "not told"}</td>
              <td class="number">{shots}</td>
              <td>
                <a class="open" href={routeTo("custody", "specimen", id)}>
                  Custody of {label}
                </a>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
