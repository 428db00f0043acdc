import type { DrawnShot } from "../contract/exhibit-figures.ts";
import { limitMarks } from "../core/limits/limit-marks.ts";
import { requirementWords } from "../core/limits/requirement-words.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { custodyTimelineFigure } from "../exhibit/custody-timeline-figure.ts";
import type { HandlingData, LimitSetData, ShotData, SpecimenData } from "../exhibit/document-data.ts";
import type { Figure } from "../exhibit/document-model.ts";
import { resultWords, stateWords, testWords, timeWords } from "../exhibit/document-words.ts";
import { shotFigure, shotFigureWords } from "../exhibit/shot-figure.ts";
import { timeCurrentFigure, timeCurrentFigureWords } from "../exhibit/time-current-figure.ts";
import type { Lab } from "./lab.ts";
import { traceView } from "./trace-view.ts";

/** The time-current figure of a specimen: its shots among the limits that they were held to. Null where it has no shot. */
export function timeCurrentOf(specimen: SpecimenData, sets: readonly LimitSetData[]): Figure | null {
  const { details, shots } = specimen;
  if (shots.length === 0) return null;
  const used = sets.filter((set) => shots.some(({ opened }) => opened.limitSetHash === set.hash));
  const ambients = shots.flatMap(({ closed }) => closed.ambientCelsius ?? []);
  const data = {
    title: `Time and current: ${details.label}`,
    subject: `${formatAmps(details.ratedAmps)}, ${details.poles} ${details.poles === 1 ? "pole" : "poles"}, ${details.volts} V`,
    axis: "multiple" as const,
    ratedAmps: details.ratedAmps,
    limits: used.flatMap(({ held }) => (held === null ? [] : limitMarks(held, details))),
    bands: shots
      .flatMap(({ opened }) => {
        const band = opened.choice?.band;
        return band === undefined
          ? []
          : [
              {
                label: band.title,
                current: band.current,
                minimum: band.minimum.map(([current, seconds]): [number, number] => [current, seconds]),
                maximum: band.maximum.map(([current, seconds]): [number, number] => [current, seconds]),
              },
            ];
      })
      .filter((band, at, all) => all.findIndex((one) => one.label === band.label) === at),
    shots: shots.flatMap(drawnShot),
    model: null,
    ambient:
      ambients.length === 0
        ? "not recorded"
        : `${Math.min(...ambients).toFixed(1)} °C to ${Math.max(...ambients).toFixed(1)} °C`,
    startingState: [...new Set(shots.map(({ opened }) => startWords(opened.row.start)))].join("; "),
    limitSets: used.map((set) => ({
      title: set.held?.title ?? set.id,
      confirmed: shots.every(({ opened }) => opened.limitSetHash !== set.hash || opened.confirmed),
    })),
    notes: [],
  };
  return {
    name: `time-current-${specimen.specimen}`,
    title: data.title,
    words: timeCurrentFigureWords(data),
    svg: timeCurrentFigure(data),
  };
}

const startWords = (start: ShotData["opened"]["row"]["start"]): string =>
  start === "cold" ? "cold" : `straight after ${start.after}`;

function drawnShot(shot: ShotData): DrawnShot[] {
  const { opened, closed } = shot;
  const { reading } = closed;
  const seconds = reading.seconds ?? reading.heldSeconds;
  // A log-log figure has no place for a shot in which no current flowed.
  if (!(seconds > 0 && reading.multiple > 0)) return [];
  const { uncertainty } = reading;
  const relative = opened.basis.currentPercent / 100;
  return [
    {
      label: `${loadingWords(opened.loading)}, ${stateWords(opened.state)}`,
      multiple: reading.multiple,
      seconds,
      outcome: reading.outcome,
      time:
        uncertainty === null || reading.seconds === null
          ? null
          : {
              lower: Math.max(seconds / 1000, uncertainty.endPoints?.lower ?? seconds - uncertainty.expanded),
              upper:
                uncertainty.endPoints === undefined
                  ? seconds + uncertainty.expanded
                  : uncertainty.endPoints.upper,
            },
      current: { lower: reading.multiple * (1 - relative), upper: reading.multiple * (1 + relative) },
    },
  ];
}

/** The sheets of a specimen's chain of custody as a timeline, its shots among the events. None where it has no event. */
export function custodyTimelineOf(
  { specimen, details, shots }: SpecimenData,
  { custody }: HandlingData,
): Figure[] {
  const sheets = custodyTimelineFigure({
    title: `Chain of custody: ${details.label}`,
    lines: custody.lines,
    remarks: custody.remarks,
    shots: shots.map(({ shot, openedAt, closed }) => ({
      ...{ shot, at: openedAt, current: closed.reading.heldSeconds > 0 },
    })),
    notes: shots.some(({ opened }) => opened.rig.emulated)
      ? ["Emulated rig: no breaker and no current were there."]
      : [],
  });
  const name = `custody-timeline-${specimen}`;
  return sheets.map((sheet, i) => ({ ...sheet, name: sheets.length === 1 ? name : `${name}-${i + 1}` }));
}

/** The figure of one shot: current against time with the numbers read from it. Null where it left no samples. */
export function shotFigureOf(lab: Pick<Lab, "store">, shot: ShotData, label: string): Figure | null {
  const { opened, closed } = shot;
  const trace = traceView(lab, shot.shot, 2000);
  if (trace.seconds.length === 0) return null;
  const { reading, verdict } = closed;
  const data = {
    title: `Test ${shot.shot}: current against time`,
    subject: `${label}, ${testWords(shot)}, ${stateWords(opened.state)}`,
    trace: { t: trace.seconds, amps: trace.amps },
    onsetSeconds: trace.onsetSeconds,
    endSeconds: trace.onsetSeconds === null ? null : (reading.seconds ?? reading.heldSeconds),
    outcome: reading.outcome,
    targetAmps: opened.targetAmps,
    effectiveAmps: reading.effectiveAmps > 0 ? reading.effectiveAmps : null,
    limits:
      verdict.limitSeconds === null
        ? []
        : [{ seconds: verdict.limitSeconds, label: `limit ${formatSeconds(verdict.limitSeconds)}` }],
    readings: [
      { name: "time", value: timeWords(reading) },
      { name: "effective current", value: formatAmps(reading.effectiveAmps) },
      { name: "must", value: requirementWords(opened.row.requirement) },
      { name: "result", value: resultWords(verdict.result) },
    ],
    notes: opened.rig.emulated ? ["Emulated rig: no breaker and no current were there."] : [],
  };
  return {
    name: `shot-${shot.shot}`,
    title: data.title,
    words: shotFigureWords(data),
    svg: shotFigure(data),
  };
}
