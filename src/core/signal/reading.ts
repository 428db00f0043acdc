/** What makes a reading questionable. A flag marked `excludes` in `flags.ts` leaves a shot without verdict. */
export type ReadingFlag =
  | "no-onset"
  | "onset-assumed"
  | "regulation"
  | "regulation-gross"
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
  /**
   * Times at the measured current plus and minus its expanded uncertainty, mapped through the model; present where a slope is
   * too coarse, near the pick-up. `upper` is null where the model would not trip at the lower current.
   */
  endPoints?: { lower: number; upper: number | null };
}

/** The time as it would have been at the target current: a calculation by a named model, beside the observed time. */
export interface TimeAtTarget {
  seconds: number;
  /** d ln t / d ln I. */
  slope: number;
  model: string;
}

/** How steady the current was over the whole windows of the on-time. */
export interface Steadiness {
  /** Slope of a straight line through the samples. */
  driftAmpsPerMinute: number;
  /** Standard deviation of the samples about that line. */
  rippleAmps: number;
}

/** What the fast raw window shows of the first cycles. */
export interface OnsetTransient {
  /** Largest instantaneous current, without sign. */
  peakAmps: number;
  /** Mean over each whole cycle from the onset on, at most five: the direct current in it. */
  dcOffsetAmps: number[];
  /** RMS over each whole half cycle from the onset on, at most ten. */
  halfCycleAmps: number[];
  /** From onset to the end of the first half cycle at 90 % of the target or more; null where none reaches it. */
  rampSeconds: number | null;
}

/**
 * What a shot shows, computed from its samples alone. Times are seconds on the rig's clock, currents true RMS amperes.
 *
 * `tripped`: the specimen opened. `held`: current was still flowing when the programme ended the shot. `interrupted`: ended
 * by operator, interlock, fault or loss of the line while current was flowing.
 */
export interface Reading {
  outcome: "tripped" | "held" | "interrupted";
  /** Time from onset to opening; null unless tripped with the onset in the recording. */
  seconds: number | null;
  /** The interval in which that time must lie; null where `seconds` is. */
  interval: { lower: number; upper: number } | null;
  /** Time for which current was seen to flow; for `held` and `interrupted` the trip time is longer than this. */
  heldSeconds: number;
  /**
   * Root mean square over the on-time, missing stretches and the partial first and last window left out; over a raw window
   * where one covers the whole on-time; 0 where no current flowed. Where no window lies wholly inside the on-time and no raw
   * window covers it, the largest sample: a lower bound.
   */
  effectiveAmps: number;
  lowestAmps: number;
  highestAmps: number;
  /** Effective current over rated current. */
  multiple: number;
  targetAmps: number;
  uncertainty: TimeUncertainty | null;
  /** In the order of `flags.ts`. */
  flags: ReadingFlag[];
  /** Samples received. */
  samples: number;
  /** The time at the current as applied, corrected to the target; never to be shown alone. Only where tripped. */
  atTarget?: TimeAtTarget;
  /** Time from onset to the opening of each pole, as the rig reported them; only where it did. */
  poleOpenings?: { pole: number; seconds: number }[];
  /** Only where at least three whole windows lie in the on-time. */
  steadiness?: Steadiness;
  /** Only where a raw window shows the onset and the line frequency is known. */
  transient?: OnsetTransient;
}
