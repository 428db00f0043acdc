import { JobList } from "./job-list.tsx";
import { JobPage } from "./job-page.tsx";

/** Jobs: the list of all, or one of them. */
export function JobsPage({ rest }: { rest: string[] }) {
  return rest[0] === undefined ? <JobList /> : <JobPage key={rest[0]} name={rest[0]} />;
}
