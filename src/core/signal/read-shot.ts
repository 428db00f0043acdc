import { roundDecimals } from "../units/round.ts";
import { assembleReading, type Observed } from "./_assemble-reading.ts";
import { effectiveCurrent } from "./_effective-current.ts";
import { type Edge, type Flow, flowOf, lateWindows } from "./_flow.ts";
import { outcomeOf } from "./_outcome.ts";
import { refine } from "./_refine.ts";
import { rigDisagrees } from "./_rig-disagrees.ts";
import { shotTransient } from "./_shot-transient.ts";
import { timeFlags } from "./_time-flags.ts";
import { sampleAt, type Timeline, timelineOf } from "./_timeline.ts";
import type { Detection } from "./_trip-uncertainty.ts";
import type { Reading } from "./reading.ts";
import { checkContext, type ReadingContext } from "./reading-context.ts";
import type { ShotEvent, ShotSignal } from "./shot-signal.ts";

/** Line frequency assumed where none is known: of the usual two, the one that hides more beside a zero crossing. */
const slowerLineHz = 50;

/**
 * Reads a shot from its samples: onset, opening, time between them with the interval in which it must lie, effective
 * current, outcome, uncertainty and flags. A function of its arguments alone: the same input gives the same bytes.
 *
 * Onset is the first sample at a tenth of the target or more, opening the last one followed by none: current begins where
 * it becomes able to heat, and ends at current zero. Samples decide; the rig's events bound what samples do not show and
 * name why the source went off.
 *
 * @throws RangeError if the context is not usable (`checkContext`) or a run's step is not above zero
 */
export function readShot(signal: ShotSignal, context: ReadingContext): Reading {
  checkContext(context);
  const timeline = timelineOf(signal.runs);
  const local = { ...signal, events: shifted(signal.events, timeline.originUs) };
  const targetMilliamps = context.targetAmps * 1000;
  const flow = flowOf(timeline, local.events, targetMilliamps);
  if (flow === null) return assembleReading(nothingFlowed(timeline), context);

  const raw = signal.raw.map((one) => ({ ...one, firstAtUs: one.firstAtUs - timeline.originUs }));
  const refined = refine(flow, raw, targetMilliamps, context.lineHz ?? slowerLineHz);
  const ended = outcomeOf(local, timeline, flow, context);
  const end =
    ended === "tripped" ? boundedEnd(refined.end, refined.onset, local, timeline, flow) : refined.end;
  // An opening that nothing bounds was told of, not shown.
  const outcome = ended === "tripped" && end.upperUs === Number.POSITIVE_INFINITY ? "interrupted" : ended;
  const tolerance = context.regulationPercent / 100;
  const current = effectiveCurrent(timeline, flow, { ...refined, end }, raw, context.targetAmps, tolerance);

  const onset = refined.onset;
  const seenSeconds = (flow.lastSeenUs - flow.firstSeenUs) / 1e6;
  const shown = outcome === "tripped" && onset !== null && flow.onset?.adjacent === true && flow.end.adjacent;
  const flags = timeFlags(local, timeline, flow, outcome);
  const rig = signal.rigResult;
  const disagrees =
    rig !== null &&
    rigDisagrees(rig, {
      outcome,
      lowerSeconds: (end.lowerUs - (onset?.upperUs ?? flow.firstSeenUs)) / 1e6,
      upperSeconds: onset === null ? Number.POSITIVE_INFINITY : (end.upperUs - onset.lowerUs) / 1e6,
      effectiveAmps: current.lowerBound ? null : current.effectiveAmps,
      stepSeconds: (sampleAt(timeline, flow.last)?.stepUs ?? 0) / 1e6,
    });
  if (disagrees || flow.eventsDisagree || refined.rawDisagrees) flags.push("rig-disagrees");

  const reading = assembleReading(
    {
      outcome,
      onset: onset && inSeconds(onset),
      end: inSeconds(end),
      heldSeconds: shown ? (end.pointUs - onset.pointUs) / 1e6 : seenSeconds,
      current,
      flags,
      samples: timeline.milliamps.length,
    },
    context,
  );
  const poleOpenings = onset === null ? [] : openingsOf(local.events, onset.pointUs);
  const transient = shotTransient(raw, context.lineHz, context.targetAmps);
  return {
    ...reading,
    ...(poleOpenings.length > 0 ? { poleOpenings } : {}),
    ...(transient === null ? {} : { transient }),
  };
}

function shifted(events: readonly ShotEvent[], originUs: number): ShotEvent[] {
  return events.map((event) => ({ ...event, atUs: event.atUs - originUs }));
}

function nothingFlowed(timeline: Timeline): Observed {
  return {
    outcome: "interrupted",
    onset: null,
    end: { lower: 0, upper: 0, point: 0 },
    heldSeconds: 0,
    current: null,
    flags: ["no-onset", ...(timeline.runsBack ? (["clock-step"] as const) : [])],
    samples: timeline.milliamps.length,
  };
}

/** An opening after the last sample that no event bounds must lie before the end of the rig's own on-time. */
function boundedEnd(end: Edge, onset: Edge | null, signal: ShotSignal, timeline: Timeline, flow: Flow): Edge {
  if (end.upperUs !== Number.POSITIVE_INFINITY || signal.rigResult === null) return end;
  const stepUs = sampleAt(timeline, flow.last)?.stepUs ?? 0;
  const told = (onset?.upperUs ?? flow.firstSeenUs) + signal.rigResult.onTimeUs + lateWindows * stepUs;
  const upperUs = Math.max(told, end.lowerUs);
  return { ...end, upperUs, pointUs: (end.lowerUs + upperUs) / 2 };
}

function openingsOf(events: readonly ShotEvent[], onsetUs: number): { pole: number; seconds: number }[] {
  return events
    .flatMap((event) =>
      event.kind === "opening" && event.pole !== undefined
        ? [{ pole: event.pole, seconds: roundDecimals((event.atUs - onsetUs) / 1e6, 6) }]
        : [],
    )
    .toSorted((a, b) => a.pole - b.pole);
}

const inSeconds = (edge: Edge): Detection => ({
  lower: edge.lowerUs / 1e6,
  upper: edge.upperUs / 1e6,
  point: edge.pointUs / 1e6,
});
