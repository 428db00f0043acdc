import type { SharesView } from "../contract/plans.ts";
import { clopperPearson } from "../core/stats/clopper-pearson.ts";
import { cochranArmitage } from "../core/stats/cochran-armitage.ts";
import { decimalNumber, readCsvTable } from "../exchange/read-csv-table.ts";
import { InputError } from "./input-error.ts";

/** A log of inspected places: what kind of equipment was found, and when. A place without any has a row of a kind such as `none`. */
type Inspection = { place: string; year: number; kind: string };

/**
 * How common equipment of each kind is: the share of inspected places in which it was found, by year and over all, with exact
 * bounds. A place counts once a year, and once over all years.
 *
 * @param text a CSV text with the columns `place,year,kind`
 * @throws InputError naming line and column
 */
export function sharesView(
  text: string,
  where: string,
  { kind: only, confidence }: { kind?: string | undefined; confidence: number },
): SharesView {
  const log = parseLog(text, where);
  const kinds = [...new Set(log.map(({ kind }) => kind))].toSorted();
  if (only !== undefined && !kinds.includes(only))
    throw new InputError(`kind: found "${only}"; ${where} holds: ${kinds.join(", ")}`);
  const years = [...new Set(log.map(({ year }) => year))].toSorted((a, b) => a - b);
  const ofYear = (year: number | null) => log.filter((one) => year === null || one.year === year);
  const share = (rows: readonly Inspection[], kind: string) => {
    const places = new Set(rows.map(({ place }) => place)).size;
    const withKind = new Set(rows.filter((one) => one.kind === kind).map(({ place }) => place)).size;
    return {
      places,
      withKind,
      share: withKind / places,
      exact: clopperPearson(withKind, places, confidence),
    };
  };
  const repeated = log.length - new Set(log.map((one) => JSON.stringify(one))).size;
  const shown = kinds.filter((kind) => only === undefined || kind === only);
  const rowsOfYear = years.map((year) => ({ year, rows: ofYear(year) }));
  return {
    confidence,
    kinds: shown.map((kind) => {
      const byYear = rowsOfYear.map(({ year, rows }) => ({ year, ...share(rows, kind) }));
      return { kind, years: byYear, all: share(log, kind), trend: trendOf(byYear) };
    }),
    notes: [
      "The unit is the place: where several pieces of equipment of a kind were found, it counts once. A place may have several kinds, so that shares need not add up to 100 %.",
      "Inspected places are those that somebody had inspected; they are no sample of all places unless they were picked so.",
      ...(repeated === 0 ? [] : [`Rows that repeat place, year and kind, counted once: ${repeated}.`]),
    ],
  };
}

function trendOf(years: readonly { year: number; places: number; withKind: number }[]) {
  if (years.length < 3) return null;
  const trend = cochranArmitage(
    years.map(({ year, places, withKind }) => ({ x: withKind, n: places, score: year })),
  );
  if (trend === null) return null;
  return {
    z: trend.z,
    p: trend.pTwoSided,
    words: `Cochran-Armitage test for a trend over the years: z = ${trend.z.toFixed(2)}, p = ${Number(trend.pTwoSided.toPrecision(3))}. It takes places and years as independent.`,
  };
}

function parseLog(text: string, where: string): Inspection[] {
  const read = readCsvTable(text, ["place", "year", "kind"]);
  if (!read.ok) throw new InputError(`${where}, line ${read.line}: ${read.problem}`);
  if (read.table.rows.length === 0) throw new InputError(`${where}: holds no inspected place`);
  return read.table.rows.map(({ line, cells }) => {
    const refuse = (column: string, accepted: string): never => {
      throw new InputError(
        `${where}, line ${line}, ${column}: found "${cells[column] ?? ""}"; accepted: ${accepted}`,
      );
    };
    const year = decimalNumber(cells.year ?? "");
    if (!(Number.isInteger(year) && year >= 1900 && year <= 2100)) refuse("year", "a year from 1900 to 2100");
    return {
      place: cells.place || refuse("place", "the place's name or number"),
      kind: cells.kind || refuse("kind", "the kind of equipment found, or a word such as none"),
      year,
    };
  });
}
