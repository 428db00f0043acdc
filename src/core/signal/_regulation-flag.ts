import type { CurrentFigures } from "./_current-figures.ts";
import type { ReadingFlag } from "./reading.ts";

/** How far the current may be from the target before the shot counts as another test than the one asked for. */
const gross = 0.1;

/**
 * Part of the on-time that may lie outside the tolerance before it is worth a flag: a lone window outside is noise of the
 * sensor and cannot move a trip.
 */
const toleratedShare = 0.01;

/**
 * The one flag, if any, that tells how the current kept to the target. Over less than three cycles, where RMS depends on the
 * phase and on the offset of the first loop, only half the target is a current that never reached it, and nothing is gross.
 *
 * @param tolerance as a fraction of the target
 */
export function regulationFlag(
  current: Pick<CurrentFigures, "effectiveAmps" | "highestAmps" | "outsideShare" | "brief">,
  targetAmps: number,
  tolerance: number,
): ReadingFlag | null {
  const reached = current.brief ? 0.5 : 1 - gross;
  if (current.highestAmps < targetAmps * reached) return "never-reached-target";
  const off = Math.abs(current.effectiveAmps / targetAmps - 1);
  if (off > gross && !current.brief) return "regulation-gross";
  return off > tolerance || current.outsideShare > toleratedShare ? "regulation" : null;
}
