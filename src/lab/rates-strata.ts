import type { StratumAttribute } from "../contract/rates.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import type { ClusterRow, KindColumn, ShotPoint } from "../store/failure-counts.ts";

type Value = string | number | null;

/** A value of a stratum as it is shown, and what it is put in order by. */
export interface StratumValue {
  label: string;
  order: number | string;
}

const notRecorded: StratumValue = { label: "not recorded", order: Number.POSITIVE_INFINITY };

const asText = (value: Value | undefined): StratumValue =>
  value == null || value === "" ? notRecorded : { label: String(value), order: String(value) };

const asNumber =
  (words: (value: number) => string) =>
  (value: Value | undefined): StratumValue =>
    typeof value === "number" ? { label: words(value), order: value } : notRecorded;

/** Upper ends of the bands of rated current, in amperes. Our own choice; the last band has no upper end. */
const bandEnds = [15, 20, 30, 50, 100, 225, 400, 800];

function ratedBand(amps: number): string {
  const end = bandEnds.find((upper) => amps <= upper);
  if (end === undefined) return `over ${bandEnds.at(-1)} A`;
  const below = bandEnds[bandEnds.indexOf(end) - 1];
  return below === undefined ? `up to ${end} A` : `over ${below} to ${end} A`;
}

function ratedBandValue(value: Value | undefined): StratumValue {
  if (typeof value !== "number") return notRecorded;
  const at = bandEnds.findIndex((upper) => value <= upper);
  return { label: ratedBand(value), order: at === -1 ? bandEnds.length : at };
}

/** Attributes that a specimen has: from which recorded columns, and how they are shown. */
export const specimenAttributes: Readonly<
  Partial<
    Record<
      StratumAttribute,
      { columns: readonly KindColumn[]; value(...values: (Value | undefined)[]): StratumValue }
    >
  >
> = {
  poles: { columns: ["poles"], value: asNumber((value) => (value === 1 ? "1 pole" : `${value} poles`)) },
  ratedAmps: { columns: ["ratedAmps"], value: ratedBandValue },
  rating: { columns: ["ratedAmps"], value: asNumber(formatAmps) },
  frame: { columns: ["frameAmps"], value: asNumber(formatAmps) },
  volts: { columns: ["volts"], value: asNumber((value) => `${value} V`) },
  makeCode: { columns: ["makeCode"], value: asText },
  typeCode: { columns: ["typeCode"], value: asText },
  madeYear: { columns: ["madeYear"], value: asNumber(String) },
  decade: {
    columns: ["madeYear"],
    value: (year) =>
      typeof year === "number"
        ? { label: `${Math.floor(year / 10) * 10}s`, order: Math.floor(year / 10) }
        : notRecorded,
  },
  condition: { columns: ["condition"], value: asText },
  selection: { columns: ["selection"], value: asText },
  tripType: { columns: ["tripType"], value: asText },
  lab: { columns: ["station"], value: asText },
};

/** Attributes of the place from which a specimen came. */
export const clusterAttributes: Readonly<
  Partial<Record<StratumAttribute, (place: Pick<ClusterRow, "job" | "panel">) => StratumValue>>
> = {
  job: ({ job }) => asText(job),
  panel: ({ job, panel }) => asText(job === null && panel === null ? null : `${job ?? "?"}, ${panel ?? "?"}`),
};

/** Attributes that a shot has, from its test point. */
export const shotAttributes: Readonly<Partial<Record<StratumAttribute, (point: ShotPoint) => StratumValue>>> =
  {
    multiple: ({ multiple }) => ({ label: formatMultiple(multiple), order: multiple }),
    loading: ({ loading }) => ({ label: loadingWords(loading), order: loading }),
    limitSet: ({ limitSet }) => ({ label: limitSet, order: limitSet }),
  };

/** Order of two values of one attribute: as numbers where both are, else by their text. */
export function compareValues(a: StratumValue, b: StratumValue): number {
  if (typeof a.order === "number" && typeof b.order === "number") {
    return a.order === b.order ? 0 : a.order < b.order ? -1 : 1;
  }
  if (typeof a.order === "number") return 1;
  if (typeof b.order === "number") return -1;
  return a.order < b.order ? -1 : a.order > b.order ? 1 : 0;
}
