import Type from "typebox";
import type { Loading } from "../core/specimen/specimen.ts";
import type { MarginsData, RatesFigureData, SurvivalFigureData } from "./figures.ts";

/** Attributes by which specimens and shots can be divided into strata. */
export const stratumAttributes = {
  poles: "number of poles",
  ratedAmps: "rated current, in bands",
  rating: "rated current, each on its own",
  frame: "frame size",
  volts: "rated voltage",
  makeCode: "maker's code",
  typeCode: "type code",
  madeYear: "year of manufacture",
  decade: "decade of manufacture",
  condition: "condition as received",
  selection: "how the specimens came to be tested",
  tripType: "how the breaker trips",
  job: "job",
  panel: "job and panel",
  lab: "station of the lab",
  multiple: "multiple of the rated current",
  loading: "poles that carried the current",
  limitSet: "limit set",
} as const;
export type StratumAttribute = keyof typeof stratumAttributes;

export const countedStates = ["as-found", "exercised", "any"] as const;
export type CountedState = (typeof countedStates)[number];

/** What a failure is: no trip within the limit, a trip in a hold test, or any verdict of fail. */
export const failureKinds = ["no-trip", "nuisance-trip", "any-fail"] as const;
export type FailureKind = (typeof failureKinds)[number];

/** Of a specimen's several shots at the points counted: the worst, or the earliest. */
export const takenShots = ["worst", "first"] as const;
export const clusterings = ["panel", "job", "none"] as const;

/** Which shots count, what a failure is, and how specimens are divided. */
export interface RateQuestion {
  by: StratumAttribute[];
  /** Multiples of rated current; empty for every multiple at which the failure can happen. */
  points: number[];
  state: CountedState;
  failure: FailureKind;
  loading: Loading | null;
  take: (typeof takenShots)[number];
  clusters: (typeof clusterings)[number];
  confidence: number;
  /** Only specimens with these values, as the strata are labelled. */
  only: { attribute: StratumAttribute; value: string }[];
}

/** An interval of a rate, both ends from 0 to 1. */
export interface RateInterval {
  lower: number;
  upper: number;
}

/** One stratum. What cannot be estimated is null. */
export interface RateRow {
  /** Values by attribute; empty for all specimens together. */
  stratum: Partial<Record<StratumAttribute, string>>;
  label: string;
  /** Failed, of those decided. */
  k: number;
  n: number;
  estimate: number | null;
  intervals: {
    clopperPearson: RateInterval | null;
    wilson: RateInterval | null;
    jeffreys: RateInterval | null;
    /** Ratio estimator with a variance between clusters, logit scale, Student's t. */
    clusterRobust: RateInterval | null;
  };
  undetermined: number;
  excluded: number;
  /** The rate if none of the undetermined and excluded had failed, and if all had. */
  lowest: number | null;
  highest: number | null;
  /** Null where clustering was not asked for. */
  clusters: number | null;
  intraclassCorrelation: number | null;
  designEffect: number | null;
  effectiveSampleSize: number | null;
  /** Variance between clusters over the binomial one. */
  robustDesignEffect: number | null;
}

/** Comparison of the strata. */
export interface RateComparison {
  method: string;
  statistic: number | null;
  p: number | null;
  /** In words, with what it presumes; says plainly where it is not estimable. */
  words: string;
}

/** GET /api/rates, and `asfound rates`. */
export interface RatesView {
  criterion: string;
  caution: string;
  question: RateQuestion;
  rows: RateRow[];
  /** All strata together; the same as the only row where there are no strata. */
  total: RateRow;
  compared: RateComparison[];
  sentence: string;
  /** Specimens received; of them invented, and whether those were counted; counted in all rows; not shot so. */
  specimens: {
    received: number;
    invented: number;
    inventedCounted: boolean;
    counted: number;
    notShotSo: number;
  };
  notes: string[];
  figure: RatesFigureData;
}

/** One specimen with why it is in or out. GET /api/rates/specimens. */
export interface RateCase {
  specimen: string;
  label: string;
  shot: string | null;
  stratum: string;
  counted: "failed" | "passed" | "undetermined" | "excluded" | "not counted";
  why: string;
}

/** GET /api/trip-times: times to trip by stratum. What cannot be estimated is null. */
export interface TripTimesView {
  criterion: string;
  caution: string;
  groups: {
    label: string;
    specimens: number;
    tripped: number;
    /** Seconds by which half had tripped; null where fewer did, with the words. */
    medianSeconds: number | null;
    medianLower: number | null;
    medianUpper: number | null;
    words: string;
  }[];
  logRank: { statistic: number | null; degreesOfFreedom: number; p: number | null; words: string } | null;
  figure: SurvivalFigureData;
}

/** GET /api/margins */
export interface MarginsView {
  criterion: string;
  caution: string;
  figure: MarginsData;
}

const text = (description: string) => Type.Optional(Type.String({ maxLength: 500, description }));

/** Query of GET /api/rates, /api/rates/specimens, /api/rates.csv, /api/trip-times and /api/margins. Lists are separated by commas. */
export const ratesQuery = Type.Object(
  {
    by: text(`attributes: ${Object.keys(stratumAttributes).join(", ")}`),
    point: text("multiples of rated current, such as 2 or 1.35,2"),
    state: text(countedStates.join(" | ")),
    failure: text(failureKinds.join(" | ")),
    loading: text("pole-1 | pole-2 | pole-3 | all"),
    take: text(takenShots.join(" | ")),
    clusters: text(clusterings.join(" | ")),
    confidence: text("above 0 and below 1; 0.95 where not given"),
    only: text("attribute=value;attribute=value"),
  },
  { additionalProperties: false },
);
export type RatesQuery = Type.Static<typeof ratesQuery>;
