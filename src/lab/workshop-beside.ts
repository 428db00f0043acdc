import { Worker } from "node:worker_threads";
import type { Workshop } from "./workshop.ts";
import { errorTold, type ToldError } from "./workshop-error.ts";
import type { WorkshopJob, WorkshopResult } from "./workshop-job.ts";

type Answer = { result: unknown } | { error: ToldError };

/**
 * A workshop in a thread of its own, which begins with the first job and does one at a time in the order in which they came. Each
 * is done on the ledger as it stands when it begins. A thread that dies fails the job that it was at; the next gets a new one.
 */
export function workshopBeside(dataDir: string): Workshop {
  let thread: Worker | null = null;
  let closed = false;
  let last: Promise<unknown> = Promise.resolve();

  const begin = (): Worker => {
    const worker = new Worker(new URL("./workshop-thread.js", import.meta.url), { workerData: { dataDir } });
    // A thread that has nothing to do keeps no process alive.
    worker.unref();
    worker.once("exit", () => {
      if (thread === worker) thread = null;
    });
    return worker;
  };

  const answerTo = (job: WorkshopJob): Promise<unknown> =>
    new Promise((settle, fail) => {
      if (closed) throw new Error("the workshop is closed");
      thread ??= begin();
      const worker = thread;
      const ended = (code: number) => fail(new Error(`the thread that made it ended with ${code}`));
      const done = (): void => {
        worker.off("message", answered).off("error", failed).off("exit", ended);
      };
      const answered = (answer: Answer): void => {
        done();
        if ("error" in answer) fail(errorTold(answer.error));
        else settle(answer.result);
      };
      const failed = (error: unknown): void => {
        done();
        thread = null;
        fail(error);
      };
      worker.once("message", answered).once("error", failed).once("exit", ended);
      worker.postMessage(job);
    });

  return {
    blocks: false,
    run: <J extends WorkshopJob>(job: J) => {
      const answer = last.then(() => answerTo(job));
      last = answer.catch(() => undefined);
      return answer as Promise<WorkshopResult<J>>;
    },
    close: async () => {
      closed = true;
      await thread?.terminate();
    },
  };
}
