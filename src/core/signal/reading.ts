/** What makes a reading questionable. A flag marked `excludes` in `flags.ts` leaves a shot without verdict. */
export type ReadingFlag =
  | "no-onset"
  | "regulation"
  | "never-reached-target"
  | "ambient-out-of-range"
  | "ambient-unknown"
  | "not-cold"
  | "gap"
  | "clock-step"
  | "rig-disagrees"
  | "calibration-past-due";

/** One line of an uncertainty budget. `value` is what the input contributes before its divisor, in `unit`. */
export interface BudgetLine {
  contribution: string;
  value: number;
  unit: string;
  distribution: "normal" | "rectangular" | "triangular" | "u-shaped";
  divisor: number;
  /** Seconds of trip time per unit of the input. */
  sensitivity: number;
  /** Standard uncertainty of the time that it causes, in seconds. */
  seconds: number;
  /** Degrees of freedom; null for infinitely many. */
  degreesOfFreedom: number | null;
  /** Part of the variance, 0 to 1. */
  share: number;
}

/** Uncertainty of a time, in seconds: standard, expanded with its k, and how it came about. */
export interface TimeUncertainty {
  standard: number;
  expanded: number;
  k: number;
  effectiveDegreesOfFreedom: number | null;
  budget: BudgetLine[];
  /** In words: which model gave the sensitivity to current. */
  model: string;
}

/**
 * What a shot shows, computed from its samples alone. Times are seconds on the rig's clock, currents true RMS amperes.
 *
 * `tripped`: the specimen opened. `held`: current was still flowing when the programme ended the shot. `interrupted`: ended
 * by operator, interlock, fault or loss of the line while current was flowing.
 */
export interface Reading {
  outcome: "tripped" | "held" | "interrupted";
  /** Time from onset to opening; null unless tripped. */
  seconds: number | null;
  /** The interval in which that time must lie; null unless tripped. */
  interval: { lower: number; upper: number } | null;
  /** Time for which current was seen to flow; for `held` and `interrupted` the trip time is longer than this. */
  heldSeconds: number;
  /** Root mean square over the on-time; 0 where no current flowed. */
  effectiveAmps: number;
  lowestAmps: number;
  highestAmps: number;
  /** Effective current over rated current. */
  multiple: number;
  targetAmps: number;
  uncertainty: TimeUncertainty | null;
  flags: ReadingFlag[];
  samples: number;
}
