import { constants, setPriority } from "node:os";
import { isMainThread, parentPort, workerData } from "node:worker_threads";
import { openLabForReading } from "./open-lab.ts";
import { toldError } from "./workshop-error.ts";
import { doWorkshopJob, type WorkshopJob } from "./workshop-job.ts";

/*
 * The other thread of workshop-beside.ts: it does one job after the other, each on the data directory as it stands then, opened
 * for reading.
 */
const { dataDir } = workerData as { dataDir: string };

// On Linux 0 means the calling thread, which then gives way to the live feed; elsewhere it would mean the whole process.
if (!isMainThread && process.platform === "linux") setPriority(0, constants.priority.PRIORITY_LOW);

parentPort?.on("message", async (job: WorkshopJob) => {
  try {
    const lab = openLabForReading(dataDir);
    try {
      const result = await doWorkshopJob(lab, job);
      // Bytes of its own can be handed over; the server's thread would copy others.
      const given = result instanceof Uint8Array ? Uint8Array.from(result) : result;
      parentPort?.postMessage({ result: given }, given instanceof Uint8Array ? [given.buffer] : []);
    } finally {
      lab.store.close();
    }
  } catch (error) {
    parentPort?.postMessage({ error: toldError(error) });
  }
});
