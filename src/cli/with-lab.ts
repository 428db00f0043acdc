import type { Lab } from "../lab/lab.ts";
import { openLab, openLabForReading } from "../lab/open-lab.ts";

/** Does `work` with the lab in a data directory, opened for writing, and closes it whatever happens. */
export function writingTo<T>(dataDir: string, work: (lab: Lab) => T): T {
  return closing(openLab(dataDir), work);
}

/** As {@link writingTo}, for reading only. */
export function readingFrom<T>(dataDir: string, work: (lab: Lab) => T): T {
  return closing(openLabForReading(dataDir), work);
}

function closing<T>(lab: Lab, work: (lab: Lab) => T): T {
  try {
    return work(lab);
  } finally {
    lab.store.close();
  }
}
