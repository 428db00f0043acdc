import type { Loading } from "../specimen/specimen.ts";

/** How well a value is known. */
export type Standing = "read in the document" | "seen second-hand" | "from memory";

/** Where a row comes from. */
export interface RowSource {
  document: string;
  edition: string | null;
  clause: string | null;
  standing: Standing;
  /** True where even the memory is doubtful. */
  doubtful: boolean;
  /** In words: what was seen, and where. */
  note: string;
}

/** What the specimen must do. Times in seconds. */
export type Requirement =
  | { kind: "trip-within"; maxSeconds: number }
  | { kind: "trip-between"; minSeconds: number; maxSeconds: number }
  | { kind: "hold-for"; seconds: number };

/** One row of a limit set: a test point for a range of rated currents. `over` is exclusive, `to` is inclusive, null is none. */
export interface LimitRow {
  id: string;
  test: string;
  multiple: number;
  requirement: Requirement;
  ratedOverAmps: number;
  ratedToAmps: number | null;
  voltsOver?: number;
  voltsTo?: number | null;
  typeLetters?: readonly ("B" | "C" | "D")[];
  /** Which loadings the row speaks of. */
  loading: "each pole alone" | "all poles" | "either";
  /** Starting state: cold, or straight after another row's test. */
  start: "cold" | { after: string };
  ambient: { lowestCelsius: number; highestCelsius: number } | null;
  source: RowSource;
}

/** Tolerance of an instantaneous trip on its setting, as fractions of what it is taken from. */
export interface InstantaneousRow {
  id: string;
  tripType: "adjustable thermal-magnetic" | "non-adjustable" | "electronic";
  low: number;
  high: number;
  takenFrom: "the nominal setting" | "the low and high edge of the published band";
  source: RowSource;
}

/** A named table of test points from one published source. */
export interface LimitSet {
  id: string;
  title: string;
  about: string;
  /** True where the published limit already contains a margin for measurement error. */
  limitIncludesGuardBand: boolean;
  rows: LimitRow[];
  instantaneous?: InstantaneousRow[];
}

/** One test to make on one specimen: a row of a limit set applied to its rating and to one loading. */
export interface TestPoint {
  limitSet: string;
  row: LimitRow;
  loading: Loading;
  targetAmps: number;
}
