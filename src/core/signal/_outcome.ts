import type { Flow } from "./_flow.ts";
import { sampleAt, type Timeline } from "./_timeline.ts";
import type { Reading } from "./reading.ts";
import type { ReadingContext } from "./reading-context.ts";
import type { ShotSignal } from "./shot-signal.ts";

/**
 * Whole windows without current that must lie before a commanded switching-off, for the specimen to have opened before it:
 * a rig may name the time at which it had finished switching off.
 */
const darkWindows = 3;

/**
 * Decides between tripped, held and interrupted. The reason for switching off comes from the rig's event, else from its
 * result, else from what the host knows.
 */
export function outcomeOf(
  signal: ShotSignal,
  timeline: Timeline,
  flow: Flow | null,
  context: ReadingContext,
): Reading["outcome"] {
  if (flow === null) return "interrupted";
  const off = signal.events.find((one) => one.kind === "off");
  const why = off?.why ?? signal.rigResult?.why;
  if (why === "opened") return "tripped";

  const commandedUs = off?.atUs ?? expectedOffUs(signal, flow, context);
  const dark = sampleAt(timeline, flow.last + darkWindows);
  if (commandedUs !== null && dark !== undefined && dark.endUs <= commandedUs) return "tripped";
  const openedUnasked =
    why === undefined &&
    signal.hostEnd === "rig-ended" &&
    signal.events.some((one) => one.kind === "opening");
  if (openedUnasked) return "tripped";

  const step = sampleAt(timeline, flow.last)?.stepUs ?? 0;
  const flowedToTheEnd = off === undefined || off.atUs - flow.lastSeenUs <= 3 * step;
  if (!flowedToTheEnd) return "interrupted";
  const hostEnded = signal.hostEnd === "limit" && (why === undefined || why === "host-stop");
  const rigEnded = why === "longest-time" && (signal.hostEnd === "limit" || signal.hostEnd === "rig-ended");
  const heldUs = flow.lastSeenUs - flow.firstSeenUs;
  const fullTime = context.endAtSeconds !== undefined && heldUs + step >= context.endAtSeconds * 1e6;
  return hostEnded || (rigEnded && fullTime) ? "held" : "interrupted";
}

/** When the source was switched off, where no event tells: from the rig's on-time, else from the programme's own end. */
function expectedOffUs(signal: ShotSignal, flow: Flow, context: ReadingContext): number | null {
  const onsetUs = flow.onset?.upperUs ?? flow.firstSeenUs;
  if (signal.rigResult !== null) return onsetUs + signal.rigResult.onTimeUs;
  if (signal.hostEnd === "limit" && context.endAtSeconds !== undefined)
    return onsetUs + context.endAtSeconds * 1e6;
  return null;
}
