import type { Loading } from "../specimen/specimen.ts";

/**
 * How well the value that decides is known. `our own choice`: the document publishes no such value, and the one given is a
 * working value chosen here; the note says so.
 */
export type Standing = "read in the document" | "seen second-hand" | "from memory" | "our own choice";

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

/**
 * What the specimen must do. Times in seconds. `until` stands where the document ends a hold by a condition instead of a time.
 */
export type Requirement =
  | { kind: "trip-within"; maxSeconds: number }
  | { kind: "trip-between"; minSeconds: number; maxSeconds: number }
  | { kind: "hold-for"; seconds: number; until?: string };

/**
 * One row of a limit set: a test point for a range of rated currents. `over` is exclusive, `to` is inclusive, null is none; where
 * both are the same number, the row speaks of that one rating only.
 */
export interface LimitRow {
  id: string;
  test: string;
  /** Of the rated current. */
  multiple: number;
  requirement: Requirement;
  ratedOverAmps: number;
  ratedToAmps: number | null;
  /** Class of rated voltage, as the rated current: over exclusive, to inclusive. */
  voltsOver?: number;
  voltsTo?: number | null;
  /** Types of IEC 60898-1 to which the row belongs; absent where type plays no part. */
  typeLetters?: readonly ("B" | "C" | "D")[];
  /** Only for specimens marked for this ambient. */
  calibratedCelsius?: number;
  /** Which loadings the row speaks of. */
  loading: "each pole alone" | "all poles" | "either";
  /** Starting state: cold, or straight after another row's test. */
  start: "cold" | { after: string };
  /** Null where the document leaves it to the maker, or where it was not seen. */
  ambient: { lowestCelsius: number; highestCelsius: number } | null;
  source: RowSource;
}

/** Tolerance of an instantaneous trip on its setting, as fractions of what it is taken from. */
export interface InstantaneousRow {
  id: string;
  tripType: "adjustable thermal-magnetic" | "non-adjustable" | "electronic" | "short-circuit release";
  /** -0.3 is 30 % below. */
  low: number;
  high: number;
  takenFrom: "the nominal setting" | "the low and high edge of the published band";
  /** Time within which the trip must come at the upper end, and must not come at the lower, where the document gives one. */
  withinSeconds?: number;
  source: RowSource;
}

/** A named table of test points from one published source. The order of its tests is the order of the programme. */
export interface LimitSet {
  /** Where editors find the JSON Schema. */
  $schema?: string;
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
