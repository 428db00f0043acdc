import type { ReadingFlag } from "./reading.ts";

/** How far the current may be from the target before the shot counts as another test than the one asked for. */
const gross = 0.1;

/**
 * Part of the on-time that may lie outside the tolerance before it is worth a flag: a lone window outside is noise of the
 * sensor and cannot move a trip.
 */
const toleratedShare = 0.01;

/** The one flag, if any, that tells how the current kept to the target. `tolerance` is a fraction of the target. */
export function regulationFlag(
  current: { effectiveAmps: number; highestAmps: number; outsideShare: number },
  targetAmps: number,
  tolerance: number,
): ReadingFlag | null {
  if (current.highestAmps < targetAmps * (1 - gross)) return "never-reached-target";
  const off = Math.abs(current.effectiveAmps / targetAmps - 1);
  if (off > gross) return "regulation-gross";
  return off > tolerance || current.outsideShare > toleratedShare ? "regulation" : null;
}
