import type { Lab } from "./lab.ts";
import { doWorkshopJob, type WorkshopJob, type WorkshopResult } from "./workshop-job.ts";

/** Where a server has documents made and the ledger checked: in its own thread, or in another beside it. */
export interface Workshop {
  /** Whether the caller's thread stands still meanwhile, so that a rig under current would miss its heartbeat. */
  readonly blocks: boolean;
  /** @throws InputError, NotFoundError or StoreError as what makes the document does */
  run<J extends WorkshopJob>(job: J): Promise<WorkshopResult<J>>;
  /** Ends what is being made; it cannot be used afterwards. */
  close(): Promise<void>;
}

/** A workshop in the calling thread, in which nothing else runs meanwhile. */
export const workshopHere = (lab: Lab): Workshop => ({
  blocks: true,
  run: async <J extends WorkshopJob>(job: J) => (await doWorkshopJob(lab, job)) as WorkshopResult<J>,
  close: async () => undefined,
});
