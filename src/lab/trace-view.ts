import type { TraceView } from "../contract/http.ts";
import { locateOnTime } from "../core/signal/locate-on-time.ts";
import { thinTrace } from "../core/signal/thin-trace.ts";
import type { Lab } from "./lab.ts";
import { knownShot } from "./shot-view.ts";

/** The trace of a shot, thinned to at most `points` points with its extremes kept; seconds count from the onset. */
export function traceView(lab: Pick<Lab, "store">, id: string, points: number): TraceView {
  const { opened, closed } = knownShot(lab, id);
  const signal = lab.store.readSignal(id);
  const samples = signal.runs.reduce((sum, run) => sum + run.milliamps.length, 0);
  const found = locateOnTime(signal, opened.targetAmps, closed?.hostEnd ?? "host-died");
  const zero = found?.onsetSeconds ?? (signal.runs[0]?.firstEndUs ?? 0) / 1e6;
  const thin = thinTrace(signal.runs, points);
  return {
    seconds: thin.seconds.map((t) => t - zero),
    amps: thin.amps,
    samples,
    onsetSeconds: found === null ? null : 0,
    openingSeconds: closed?.reading.seconds ?? null,
  };
}
