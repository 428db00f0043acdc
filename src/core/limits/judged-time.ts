import type { RowSource } from "./limit-set.ts";

/** What was measured, ready to be judged. Times and uncertainties in seconds. */
export interface JudgedTime {
  outcome: "tripped" | "held" | "interrupted";
  /** Time to the trip; null unless tripped, and null where only the interval is known. */
  seconds: number | null;
  /** Where the trip is known only to lie in an interval, that interval; the whole of it is judged. */
  interval: { lower: number; upper: number } | null;
  /** Time for which current flowed. */
  heldSeconds: number;
  /** Expanded uncertainty U of the time; null where there is none. */
  expanded: number | null;
  /** Standard uncertainty u of the time; null where there is none. */
  standard: number | null;
  /** Whole sentences, each a reason why the shot cannot be used; empty where it can. */
  excluded: readonly string[];
}

/** What the time is held against, beside the requirement itself. */
export interface JudgeContext {
  /** Name of the set or band; "entered by hand" where there is none. */
  limitSet: string;
  /** Row of the set, or null. */
  row: string | null;
  /** Where the limit comes from; null where it was entered by hand. */
  source: RowSource | null;
  /** Whether the lab has confirmed the set against its own copy of the document. */
  confirmed: boolean;
  /** True where the published limit already contains a margin for measurement error: no second guard band then. */
  limitIncludesGuardBand: boolean;
  /** Effective current over the nominal current of the test point; null where the limit was taken at the current as measured. */
  currentRatio: number | null;
}
