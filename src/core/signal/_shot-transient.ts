import { rawOnset } from "./_raw-edges.ts";
import { rawStretches } from "./_raw-window.ts";
import { onsetTransient } from "./onset-transient.ts";
import type { OnsetTransient } from "./reading.ts";
import type { ShotSignal } from "./shot-signal.ts";

/** The onset transient of the first raw window that shows an onset finely enough; null where none does. */
export function shotTransient(
  raw: ShotSignal["raw"],
  lineHz: number | undefined,
  targetAmps: number,
): OnsetTransient | null {
  if (lineHz === undefined) return null;
  for (const stretch of rawStretches(raw, "onset")) {
    const edge = rawOnset(stretch, targetAmps * 1000, lineHz);
    const stepSeconds = stretch.stepUs / 1e6;
    if (edge === null || 1 / (2 * lineHz * stepSeconds) < 4) continue;
    const values = Float64Array.from(stretch.milliamps, (value) => value / 1000);
    const onsetSeconds = Math.max(0, (edge.pointUs - stretch.firstUs) / 1e6);
    return onsetTransient({ values, stepSeconds }, lineHz, onsetSeconds, targetAmps);
  }
  return null;
}
