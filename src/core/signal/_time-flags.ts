import type { Flow } from "./_flow.ts";
import { sampleAt, type Timeline } from "./_timeline.ts";
import type { Reading, ReadingFlag } from "./reading.ts";
import type { ShotSignal } from "./shot-signal.ts";

/** The flags about time: an onset that is not shown, samples that are missing where it matters, a clock that stepped. */
export function timeFlags(
  signal: ShotSignal,
  timeline: Timeline,
  flow: Flow,
  outcome: Reading["outcome"],
): ReadingFlag[] {
  const flags: ReadingFlag[] = [];
  if (flow.onset === null) flags.push("no-onset");
  const off = signal.events.find((one) => one.kind === "off");
  const stepUs = sampleAt(timeline, flow.last)?.stepUs ?? 0;
  const inside = timeline.gapsBefore.some((index) => index > flow.first && index <= flow.last);
  const atOnset = flow.onset !== null && !flow.onset.adjacent;
  const atEnd =
    outcome === "tripped" ? !flow.end.adjacent : off !== undefined && off.atUs - flow.lastSeenUs > 3 * stepUs;
  // The rig counted what it sent: if nothing is missing, a hole in time is a step of its clock.
  const nothingMissing = signal.rigResult?.samples === timeline.milliamps.length;
  if (timeline.runsBack || (nothingMissing && timeline.gapsBefore.length > 0)) flags.push("clock-step");
  else if (inside || atOnset || atEnd) flags.push("gap");
  return flags;
}
