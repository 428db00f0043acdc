import Type from "typebox";
import type { ForestData, FunnelData } from "./figures.ts";
import type { StudyCounts } from "./ledger-entries.ts";
import type { RateInterval } from "./rates.ts";

/** One stratum of a study as it was recorded, with its own rate. GET /api/studies gives a list. */
export interface StudyView {
  /** Sequence of its ledger entry; null for a study that was read from a file only. */
  sequence: number | null;
  counts: StudyCounts;
  estimate: number;
  /** Exact, 95 %. */
  exact: RateInterval;
}

/** POST /api/studies: the text of a CSV file. Answer 201: StudyView[] of what was recorded; all rows or none. */
export const importStudiesBody = Type.Object(
  {
    csv: Type.String({ minLength: 1, maxLength: 900_000, description: "text of the CSV file" }),
    name: Type.Optional(Type.String({ maxLength: 200, description: "name of the file, for messages" })),
  },
  { additionalProperties: false },
);

export const poolModels = ["glmm", "reml", "dl", "pm", "common", "beta-binomial"] as const;
export type PoolModel = (typeof poolModels)[number];

/** By what studies can be pooled apart. */
export const poolGroupings = ["none", "stratum", "selection", "study", "criterion"] as const;

/** Query of GET /api/pool and GET /api/pool/compare. */
export const poolQuery = Type.Object(
  {
    model: Type.Optional(Type.String({ description: poolModels.join(" | ") })),
    withLab: Type.Optional(Type.String({ description: "true to add the lab's own rate" })),
    criterion: Type.Optional(Type.String({ maxLength: 2000, description: "only studies of this criterion" })),
    multiple: Type.Optional(Type.String({ description: "only studies at this multiple of rated current" })),
    mixedCriteria: Type.Optional(Type.String({ description: "true to pool studies of different criteria" })),
    by: Type.Optional(Type.String({ description: poolGroupings.join(" | ") })),
    confidence: Type.Optional(Type.String({ description: "above 0 and below 1" })),
  },
  { additionalProperties: false },
);
export type PoolQuery = Type.Static<typeof poolQuery>;

/** One study of a pool. */
export interface PoolRow {
  label: string;
  k: number;
  n: number;
  estimate: number;
  /** Exact interval at the pool's level. */
  lower: number;
  upper: number;
  /** Share in the pooled estimate; for the likelihood models the study's share of information, an approximation. */
  weight: number | null;
  /** True where its criterion differs from that of the first study. */
  marked: boolean;
  criterion: string;
  multiple: number | null;
  selection: StudyCounts["selection"];
  citation: string;
  /** The pooled rate without this study; null where that is not estimable. */
  without: number | null;
}

/** Pooled rate of a group of studies. */
export interface PooledRate {
  label: string;
  studies: number;
  estimate: number;
  lower: number;
  upper: number;
}

/** GET /api/pool, and `asfound pool`. Rates from 0 to 1; what cannot be estimated is null, and `notEstimable` or a note says why. */
export interface PoolView {
  model: PoolModel;
  modelWords: string;
  criterion: string;
  caution: string;
  confidence: number;
  rows: PoolRow[];
  pooled: { estimate: number; lower: number; upper: number } | null;
  notEstimable: string | null;
  /** Where the rate of a new study is expected. */
  prediction: RateInterval | null;
  /** Of the pooled rate, for models on logits. */
  hartungKnapp: RateInterval | null;
  /** Between-study variance of logits; for beta-binomial the correlation within a study stands in `correlation`. */
  tau2: number | null;
  tau2Bounds: { lower: number; upper: number | null } | null;
  correlation: number | null;
  /** Rate averaged over studies, where the model tells it from the middle study's. */
  marginalMean: number | null;
  q: number | null;
  qDegreesOfFreedom: number | null;
  qP: number | null;
  i2: number | null;
  h2: number | null;
  smallStudy: { bias: number; p: number; words: string } | null;
  groups: { by: string; pooled: PooledRate[]; q: number | null; p: number | null; words: string } | null;
  notes: string[];
  sentence: string;
  forest: ForestData;
  funnel: FunnelData;
}

/** GET /api/pool/compare: the pooled rate by every model, side by side. */
export type PoolComparison = { model: PoolModel; pooled: PoolView["pooled"]; tau2: number | null }[];
