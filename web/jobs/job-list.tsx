import { useState } from "preact/hooks";
import type { JobView } from "../../src/contract/job-schema.ts";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { ImportForm } from "./import-form.tsx";
import { JobForm } from "./job-form.tsx";

/** All jobs, with the form that opens one and the import of a list of specimens. */
export function JobList() {
  const jobs = useResource<JobView[]>(addresses.jobs);
  const [opening, setOpening] = useState(false);
  const all = jobs.value ?? [];
  return (
    <div class="record">
      <div class="record-head">
        <h1>Jobs</h1>
        <button type="button" class={opening ? "" : "primary"} onClick={() => setOpening(!opening)}>
          {opening ? "Close the form" : "Open a job"}
        </button>
      </div>
      {opening && (
        <section class="panel" aria-labelledby="open-job-title">
          <h2 id="open-job-title">Open a job</h2>
          <JobForm name="" onOpened={(job) => (location.hash = routeTo("jobs", job))} />
        </section>
      )}
      <ProblemNote problem={jobs.problem} />
      {jobs.loading && <p class="empty">Reading the jobs.</p>}
      {jobs.value !== null && all.length === 0 && <p class="empty">No job has been opened yet.</p>}
      {all.length > 0 && (
        <div class="table-frame">
          <table class="shots">
            <thead>
              <tr>
                <th scope="col">Job</th>
                <th scope="col">Site</th>
                <th scope="col">Removed on</th>
                <th scope="col" class="number">
                  Specimens
                </th>
                <th scope="col">To be told</th>
              </tr>
            </thead>
            <tbody onKeyDown={moveWithArrows("a")}>
              {all.map(({ job, opened, specimens, remarks }) => (
                <tr key={job} onClick={() => (location.hash = routeTo("jobs", job))}>
                  <th scope="row">
                    <a class="open" href={routeTo("jobs", job)}>
                      {job}
                    </a>
                  </th>
                  <td>{opened?.details.site ?? "not recorded"}</td>
                  <td class="tight">{opened?.details.on ?? "not recorded"}</td>
                  <td class="number">{specimens.length}</td>
                  <td>
                    {opened === null
                      ? "never opened"
                      : remarks.length === 0
                        ? ""
                        : `${remarks.length} ${remarks.length === 1 ? "remark" : "remarks"}`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <ImportForm onImported={jobs.reload} />
    </div>
  );
}
