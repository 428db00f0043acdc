import type { LiveMessage } from "../contract/http.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import type { BenchDesk, FinishedShot } from "../lab/bench-desk.ts";
import type { ShotRequest } from "../lab/prepare-shot.ts";
import { endProgress, progress } from "./output.ts";

/**
 * Runs one shot with a progress line. An interrupt from the keyboard stops the current and lets the shot be recorded as
 * interrupted; a second one ends the program, and the rig drops the current by itself.
 */
export async function runWithProgress(
  desk: BenchDesk,
  request: ShotRequest,
  words: string,
): Promise<FinishedShot> {
  let last = 0;
  let state = "";
  const show = (message: LiveMessage) => {
    if (message.kind === "shot") state = message.shot?.state ?? "";
    if (message.kind !== "samples" || Date.now() - last < 100) return;
    last = Date.now();
    const seconds = message.seconds.at(-1);
    const amps = message.amps.at(-1);
    if (seconds !== undefined && amps !== undefined)
      progress(`${words}: ${state}, ${formatSeconds(Math.max(0, seconds))}, ${formatAmps(amps)}`);
  };
  const leave = desk.listen(show);
  let interrupts = 0;
  const interrupt = () => {
    interrupts += 1;
    if (interrupts > 1) process.exit(2);
    void desk.stop();
  };
  process.on("SIGINT", interrupt);
  process.on("SIGTERM", interrupt);
  try {
    return await desk.run(request);
  } finally {
    process.off("SIGINT", interrupt);
    process.off("SIGTERM", interrupt);
    leave();
    endProgress();
  }
}

/** One finished shot as `asfound shoot --json` prints it. */
export function shotDocument({ opened, closed }: FinishedShot) {
  return { shot: opened.shot, specimen: opened.specimen, reading: closed.reading, verdict: closed.verdict };
}
