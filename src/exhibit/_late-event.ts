import type { CustodyLine } from "../contract/custody-schema.ts";
import type { Region } from "./_custody-regions.ts";
import { isDated } from "./_timeline-knots.ts";

/** Entered later than this after it was observed, an event was not written down when it happened: five minutes. */
const promptSeconds = 300;

/** Was it entered later than it was observed? In a published copy only what was pointed out is known. */
export function isLateEvent(line: CustodyLine, regions: readonly Region[], place: number): boolean {
  if (isDated(line.event.observedAt)) return line.lateSeconds > promptSeconds;
  return regions.some(({ kind, numbers }) => kind === "late entry" && numbers.includes(place + 1));
}
