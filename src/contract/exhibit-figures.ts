import type { LimitMark } from "../core/limits/limit-marks.ts";
import type { CustodyLine, CustodyRemark } from "./custody-schema.ts";

/** Corner of a time-current curve: multiple of the rated current (or amperes where said), seconds. */
export type CurvePoint = [current: number, seconds: number];

/** A band as it is drawn: its two edges, joined by straight lines in log-log space. */
export interface DrawnBand {
  label: string;
  /** What the first number of each point is. */
  current: "amps" | "multiple";
  minimum: readonly CurvePoint[];
  maximum: readonly CurvePoint[];
}

/** A shot as it is drawn. Currents are multiples of the rated current, times seconds. */
export interface DrawnShot {
  label: string;
  multiple: number;
  /** Time to the trip, or the time held where it did not trip. */
  seconds: number;
  outcome: "tripped" | "held" | "interrupted";
  /** Where the time lies with its uncertainty; null where none is stated. `upper` is null where no end is known. */
  time: { lower: number; upper: number | null } | null;
  /** Where the current lies with its uncertainty, in multiples; null where none is stated. */
  current: { lower: number; upper: number } | null;
}

/** The trip model as it is drawn: the curve and the bounds of its prediction, rising in multiples. */
export interface DrawnModel {
  label: string;
  curve: readonly CurvePoint[];
  /** Empty where no bounds are known. */
  lower: readonly CurvePoint[];
  upper: readonly CurvePoint[];
}

/** Data of a time-current figure, log-log. */
export interface TimeCurrentFigureData {
  title: string;
  /** What is under test, in a line below the title. */
  subject: string;
  /** What the current axis shows. */
  axis: "multiple" | "amps";
  ratedAmps: number;
  limits: readonly LimitMark[];
  bands: readonly DrawnBand[];
  shots: readonly DrawnShot[];
  model: DrawnModel | null;
  /** In words: `23 °C to 25 °C`, `not recorded`. */
  ambient: string;
  /** In words: `cold`, `straight after the 100 % hold`. */
  startingState: string;
  /** The sets and bands that the limits are from, and whether the lab has confirmed each against its own copy. */
  limitSets: readonly { title: string; confirmed: boolean }[];
  notes: readonly string[];
}

/** Data of a figure of one shot: current against time on the rig's clock. */
export interface ShotFigureData {
  title: string;
  /** What was tested and how, in a line below the title. */
  subject: string;
  /** Points of the trace, thinned; null where samples are missing. Seconds rise. */
  trace: { t: readonly number[]; amps: readonly (number | null)[] };
  /** On the clock of the trace; null where the onset is not in the recording. */
  onsetSeconds: number | null;
  /** End of the current on the clock of the trace; null where it is not in the recording. */
  endSeconds: number | null;
  outcome: "tripped" | "held" | "interrupted";
  targetAmps: number;
  /** Null where no current flowed. */
  effectiveAmps: number | null;
  /** Limits as times after the onset, with their words. */
  limits: readonly { seconds: number; label: string }[];
  /** The numbers read from the trace, as words: `time to trip`, `24.03 s ± 0.06 s`. */
  readings: readonly { name: string; value: string }[];
  notes: readonly string[];
}

/** Data of the timeline of a chain of custody. In a published copy every moment is a year alone. */
export interface CustodyTimelineData {
  title: string;
  /** In the order of what was observed; an event's number is its place in it, from 1. */
  lines: readonly CustodyLine[];
  /** A remark's letter is its place: A, B, C and so on. */
  remarks: readonly CustodyRemark[];
  /** Oldest first; `current` is false where none flowed. */
  shots: readonly { shot: string; at: string; current: boolean }[];
  notes: readonly string[];
}
