import type { Loading, Specimen } from "../specimen/specimen.ts";
import { namedList, ratingRange } from "./_words.ts";
import type { LimitRow, LimitSet, TestPoint } from "./limit-set.ts";

/** A test point, or why there is none: what was found, and which multiples, ratings or loadings the set has. */
export type FoundTestPoint =
  | { ok: true; point: TestPoint }
  | {
      ok: false;
      code:
        | "no-row-for-multiple"
        | "no-row-for-rating"
        | "no-row-for-volts"
        | "no-row-for-type"
        | "no-row-for-calibration"
        | "several-rows"
        | "no-such-pole"
        | "loading-not-in-row";
      detail: string;
    };

/** Two multiples closer than this are the same one. */
const multipleTolerance = 1e-9;

const coversRating = (row: LimitRow, amps: number): boolean =>
  row.ratedOverAmps === row.ratedToAmps
    ? amps === row.ratedToAmps
    : amps > row.ratedOverAmps && (row.ratedToAmps === null || amps <= row.ratedToAmps);

const coversVolts = (row: LimitRow, volts: number): boolean =>
  volts > (row.voltsOver ?? 0) && volts <= (row.voltsTo ?? Number.POSITIVE_INFINITY);

const coversType = (row: LimitRow, letter: Specimen["typeLetter"]): boolean =>
  row.typeLetters === undefined || (letter !== undefined && row.typeLetters.includes(letter));

const coversCalibration = (row: LimitRow, celsius: number | undefined): boolean =>
  row.calibratedCelsius === undefined || row.calibratedCelsius === celsius;

function checkSpecimen(specimen: Specimen): void {
  if (!(specimen.ratedAmps > 0 && Number.isFinite(specimen.ratedAmps))) {
    throw new RangeError(`ratedAmps must be a positive number of amperes but is ${specimen.ratedAmps}`);
  }
  if (!(specimen.volts > 0 && Number.isFinite(specimen.volts))) {
    throw new RangeError(`volts must be a positive number but is ${specimen.volts}`);
  }
  if (![1, 2, 3].includes(specimen.poles))
    throw new RangeError(`poles must be 1, 2 or 3 but is ${specimen.poles}`);
}

/**
 * The rows of a limit set that speak of a specimen, in the order of the set. A row that needs a type letter or a marked
 * ambient does not apply to a specimen of which that is not known.
 *
 * @throws RangeError if rating, voltage or poles of the specimen are not valid
 */
export function rowsFor(set: LimitSet, specimen: Specimen): LimitRow[] {
  checkSpecimen(specimen);
  return set.rows.filter(
    (row) =>
      coversRating(row, specimen.ratedAmps) &&
      coversVolts(row, specimen.volts) &&
      coversType(row, specimen.typeLetter) &&
      coversCalibration(row, specimen.calibratedCelsius),
  );
}

/** Loadings of a specimen of so many poles. */
function everyLoading(poles: Specimen["poles"]): Loading[] {
  return [...(["pole-1", "pole-2", "pole-3"] as const).slice(0, poles), "all"];
}

/** With one pole, that pole and all poles are the same thing. */
function accepts(row: LimitRow, loading: Loading, poles: Specimen["poles"]): boolean {
  if (row.loading === "either" || poles === 1) return true;
  return row.loading === "all poles" ? loading === "all" : loading !== "all";
}

/** What a programme runs: each pole alone where the row says so, otherwise all poles at once. */
function programmeLoadings(row: LimitRow, poles: Specimen["poles"]): Loading[] {
  if (poles === 1) return ["pole-1"];
  return row.loading === "each pole alone"
    ? everyLoading(poles).filter((loading) => loading !== "all")
    : ["all"];
}

function pointAt(set: LimitSet, row: LimitRow, specimen: Specimen, loading: Loading): TestPoint {
  // 1.13 x 63 is 71.18999999999998 in binary: to the microampere is far beyond any rig.
  const targetAmps = Math.round(row.multiple * specimen.ratedAmps * 1e6) / 1e6;
  return { limitSet: set.id, row, loading, targetAmps };
}

/**
 * The ordered test points that a limit set asks of a specimen: tests in the order of the set, poles in their order. A row
 * that allows either loading is run on all poles at once. Empty where no row applies.
 *
 * @throws RangeError if rating, voltage or poles of the specimen are not valid
 */
export function programmeFor(set: LimitSet, specimen: Specimen): TestPoint[] {
  return rowsFor(set, specimen).flatMap((row) =>
    programmeLoadings(row, specimen.poles).map((loading) => pointAt(set, row, specimen, loading)),
  );
}

/**
 * The test point at one multiple of rating. Without `loading`, the first that a programme would run.
 *
 * @param multiple of rated current; matched within 1e-9
 * @throws RangeError if the multiple, or rating, voltage or poles of the specimen are not valid
 */
export function findTestPoint(
  set: LimitSet,
  specimen: Specimen,
  multiple: number,
  loading?: Loading,
): FoundTestPoint {
  if (!(multiple > 0 && Number.isFinite(multiple)))
    throw new RangeError(`multiple must be a positive number but is ${multiple}`);
  const applicable = rowsFor(set, specimen);
  const found = applicable.filter((row) => isAt(row, multiple));
  if (found.length === 0) return explainMissing(set, specimen, multiple, applicable);
  const poles = specimen.poles;
  if (loading !== undefined && !everyLoading(poles).includes(loading)) {
    return refused(
      "no-such-pole",
      `the specimen has ${poles === 1 ? "1 pole" : `${poles} poles`}; found loading ${loading}, accepted are ${namedList(everyLoading(poles))}`,
    );
  }
  const fitting = loading === undefined ? found : found.filter((row) => accepts(row, loading, poles));
  const [row, another] = fitting;
  if (row === undefined) {
    const accepted = everyLoading(poles).filter((one) => found.some((each) => accepts(each, one, poles)));
    return refused(
      "loading-not-in-row",
      `${set.id} at ${multiple} times rating speaks of ${namedList([...new Set(found.map((one) => one.loading))])}; found loading ${loading}, accepted are ${namedList(accepted)}`,
    );
  }
  if (another !== undefined) {
    return refused(
      "several-rows",
      `${set.id} has several rows at ${multiple} times rating for ${specimen.ratedAmps} A: ${namedList(fitting.map((one) => one.id))}`,
    );
  }
  const chosen = loading ?? programmeLoadings(row, poles)[0] ?? "all";
  return { ok: true, point: pointAt(set, row, specimen, chosen) };
}

const isAt = (row: LimitRow, multiple: number) => Math.abs(row.multiple - multiple) <= multipleTolerance;

type Refused = Extract<FoundTestPoint, { ok: false }>;
const refused = (code: Refused["code"], detail: string): Refused => ({ ok: false, code, detail });

const multiplesOf = (rows: readonly LimitRow[]) =>
  namedList([...new Set(rows.map((row) => row.multiple))].map((multiple) => `${multiple}`));

/** Takes the conditions of a row one by one, and names the first that leaves none. */
function explainMissing(
  set: LimitSet,
  specimen: Specimen,
  multiple: number,
  applicable: readonly LimitRow[],
): Refused {
  const atMultiple = set.rows.filter((row) => isAt(row, multiple));
  const offered =
    applicable.length > 0
      ? `; for this specimen (${specimen.ratedAmps} A) the set has the multiples ${multiplesOf(applicable)}`
      : "";
  if (atMultiple.length === 0) {
    const has = set.rows.length === 0 ? "no test points at all" : `the multiples ${multiplesOf(set.rows)}`;
    return refused(
      "no-row-for-multiple",
      `${set.id} has no row at ${multiple} times rating${offered === "" ? `; it has ${has}` : offered}`,
    );
  }
  const rated = atMultiple.filter((row) => coversRating(row, specimen.ratedAmps));
  if (rated.length === 0) {
    const ranges = [
      ...new Set(atMultiple.map((row) => ratingRange(row.ratedOverAmps, row.ratedToAmps, "A"))),
    ];
    return refused(
      "no-row-for-rating",
      `${set.id} has no row at ${multiple} times rating for ${specimen.ratedAmps} A; its rows there are for ${namedList(ranges)}${offered}`,
    );
  }
  const ratedAtVolts = rated.filter((row) => coversVolts(row, specimen.volts));
  if (ratedAtVolts.length === 0) {
    const classes = [
      ...new Set(rated.map((row) => ratingRange(row.voltsOver ?? 0, row.voltsTo ?? null, "V"))),
    ];
    return refused(
      "no-row-for-volts",
      `${set.id} has no row at ${multiple} times rating for ${specimen.ratedAmps} A at ${specimen.volts} V; its rows there are for ${namedList(classes)}${offered}`,
    );
  }
  const ofType = ratedAtVolts.filter((row) => coversType(row, specimen.typeLetter));
  if (ofType.length === 0) {
    const letters = [...new Set(ratedAtVolts.flatMap((row) => row.typeLetters ?? []))];
    const found =
      specimen.typeLetter === undefined
        ? "a specimen without a type letter"
        : `a specimen of type ${specimen.typeLetter}`;
    return refused(
      "no-row-for-type",
      `${set.id} has no row at ${multiple} times rating for ${found}; its rows there are for type ${namedList(letters)}${offered}`,
    );
  }
  const marked = [...new Set(ofType.map((row) => `${row.calibratedCelsius} degrees C`))];
  return refused(
    "no-row-for-calibration",
    `${set.id} at ${multiple} times rating is only for specimens marked for ${namedList(marked)}; found ${specimen.calibratedCelsius === undefined ? "no such mark" : `${specimen.calibratedCelsius} degrees C`}${offered}`,
  );
}
