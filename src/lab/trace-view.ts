import type { TraceView } from "../contract/http.ts";
import { flowFraction } from "../core/signal/reading-context.ts";
import type { SampleRun } from "../core/signal/shot-signal.ts";
import { thinTrace } from "../core/signal/thin-trace.ts";
import type { Lab } from "./lab.ts";
import { knownShot } from "./shot-view.ts";

/** Beginning of the first window in which current flowed, in seconds from the beginning of the first window; null if none. */
function onsetSeconds(runs: readonly SampleRun[], targetAmps: number): number | null {
  const first = runs[0];
  if (first === undefined) return null;
  for (const run of runs) {
    const index = run.milliamps.findIndex((milliamps) => milliamps >= flowFraction * targetAmps * 1000);
    if (index !== -1)
      return (run.firstEndUs + (index - 1) * run.stepUs - (first.firstEndUs - first.stepUs)) / 1e6;
  }
  return null;
}

/** The trace of a shot, thinned to at most `points` points with its extremes kept; seconds count from the onset. */
export function traceView(lab: Pick<Lab, "store">, id: string, points: number): TraceView {
  const shot = knownShot(lab, id);
  const { runs } = lab.store.blocks.readSignal(id);
  const onset = onsetSeconds(runs, shot.opened.body.targetAmps);
  const thin = thinTrace(runs, Math.min(4000, Math.max(10, points)));
  return {
    seconds: thin.t.map((t) => t - (onset ?? 0)),
    amps: thin.amps,
    samples: runs.reduce((sum, run) => sum + run.milliamps.length, 0),
    onsetSeconds: onset === null ? null : 0,
    openingSeconds: shot.closed?.body.reading.seconds ?? null,
  };
}
