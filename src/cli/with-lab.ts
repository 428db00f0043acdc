import type { Lab } from "../lab/lab.ts";
import { openLab, openLabForReading } from "../lab/open-lab.ts";

/** Does `work`, at once or in time, with the lab in a data directory, opened for writing, and closes it whatever happens. */
export function writingTo<T>(dataDir: string, work: (lab: Lab) => T): T {
  return closing(openLab(dataDir), work);
}

/** As {@link writingTo}, for reading only. */
export function readingFrom<T>(dataDir: string, work: (lab: Lab) => T): T {
  return closing(openLabForReading(dataDir), work);
}

function closing<T>(lab: Lab, work: (lab: Lab) => T): T {
  const close = () => lab.store.close();
  let result: T;
  try {
    result = work(lab);
  } catch (error) {
    close();
    throw error;
  }
  if (result instanceof Promise) return result.finally(close) as T;
  close();
  return result;
}
