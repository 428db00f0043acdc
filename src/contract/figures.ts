import type { Verdict } from "../core/limits/verdict.ts";

/** Data of a forest plot. Estimates and intervals are rates from 0 to 1; `weight` is a share of 1. */
export interface ForestData {
  title: string;
  criterion: string;
  rows: {
    label: string;
    k: number;
    n: number;
    estimate: number;
    lower: number;
    upper: number;
    weight: number | null;
    /** True for a study whose criterion differs from the first one's. */
    marked?: boolean;
  }[];
  /** Null where the pooled rate is not estimable; the notes say why. */
  pooled: { label: string; estimate: number; lower: number; upper: number } | null;
  prediction: { lower: number; upper: number } | null;
  notes: string[];
}

/** Data of a picture of rates by stratum: one row each, rates from 0 to 1. Strata in which nothing was decided have no row. */
export interface RatesFigureData {
  title: string;
  criterion: string;
  rows: { label: string; k: number; n: number; estimate: number; lower: number; upper: number }[];
  notes: string[];
}

/**
 * Data of Kaplan-Meier steps: `survival[i]` is the share not yet tripped from `time[i]` seconds on, 1 before `time[0]`. Bounds
 * are null where the curve has none. `atRisk` is for round times; `censored` lists the times at which watching ended.
 */
export interface SurvivalFigureData {
  title: string;
  criterion: string;
  xLabel: string;
  curves: {
    label: string;
    time: number[];
    survival: number[];
    lower: (number | null)[];
    upper: (number | null)[];
    atRisk: { time: number; n: number }[];
    censored: number[];
    lastTime: number;
  }[];
  notes: string[];
}

/** Data of a funnel: each study's logit and its standard error, about the pooled logit. */
export interface FunnelData {
  title: string;
  criterion: string;
  points: { label: string; logit: number; standardError: number; marked?: boolean }[];
  centre: number | null;
  /** Half-width of the funnel in standard errors: the two-sided normal quantile of the level. */
  z: number;
  notes: string[];
}

/**
 * Data of a distribution of margins: time over limit for each specimen, where above 1 is late. `censored` says that it had
 * not tripped when the current was ended, so that its true ratio is larger.
 */
export interface MarginsData {
  title: string;
  criterion: string;
  points: { label: string; stratum: string; ratio: number; censored: boolean; result: Verdict["result"] }[];
  notes: string[];
}
