import type { RateQuestion, StratumAttribute } from "../contract/rates.ts";
import type { KindColumn, KindRow, ShotPoint } from "../store/failure-counts.ts";
import type { Lab } from "./lab.ts";
import { stationOf } from "./open-lab.ts";
import { compareValues, type StratumValue, shotAttributes, specimenAttributes } from "./rates-strata.ts";

/** One stratum: its values in the order of the question's attributes. */
export interface Stratum {
  values: StratumValue[];
  label: string;
}

/** The points and specimens that a question is about, and the stratum of each. */
export interface Selection {
  points: ShotPoint[];
  /** Group of each point that counts: points of one group fall in the same strata. */
  groups: Map<number, number>;
  /** Multiples of the points that count, rising. */
  multiples: number[];
  /** Stratum of specimens of this kind at points of this group; null where they do not count. */
  stratumOf(kind: number, group: number): number | null;
  /** Cluster of specimens of this kind; null for each on its own. */
  clusterOf(kind: number): number | null;
  strata: Stratum[];
  /** True where one specimen may stand in several strata. */
  overlapping: boolean;
  inventedCounted: boolean;
}

/** Finds which points and kinds of specimens a question is about. */
export function selectCases(lab: Pick<Lab, "store">, question: RateQuestion): Selection {
  const { by, only } = question;
  const inventedCounted = stationOf(lab).demo;
  const points = lab.store.failureCounts.points().filter((point) => concerns(question, point));
  const shotBy = by.flatMap((name) => (shotAttributes[name] === undefined ? [] : [name]));
  const { groups, valuesOfGroup } = groupPoints(points, shotBy);

  const specimenBy = by.flatMap((name) => (specimenAttributes[name] === undefined ? [] : [name]));
  const filters = only.filter(({ attribute }) => specimenAttributes[attribute] !== undefined);
  const byJob = question.clusters === "job";
  const columns = [
    ...new Set<KindColumn>([
      ...[...specimenBy, ...filters.map(({ attribute }) => attribute)].flatMap(
        (name) => specimenAttributes[name]?.columns ?? [],
      ),
      ...(byJob ? (["station", "job"] as const) : []),
    ]),
  ];
  const kinds = lab.store.failureCounts.kinds(columns);
  const recordedValue = (row: KindRow, name: StratumAttribute): StratumValue => {
    const attribute = specimenAttributes[name];
    if (attribute === undefined) throw new Error(`${name} is no attribute of a specimen`);
    return attribute.value(...attribute.columns.map((column) => row[3 + columns.indexOf(column)]));
  };

  const combinations = new Map<string, number>();
  const combinationValues: StratumValue[][] = [];
  const combinationOfKind = new Int32Array(kinds.length + 1).fill(-1);
  const clusterOfKind = new Int32Array(kinds.length + 1).fill(-1);
  const known = new Map<string, number>();
  const jobs = new Map<string, number>();
  for (const row of kinds) {
    const [kind, cluster, demo] = row;
    if (demo === 1 && !inventedCounted) continue;
    if (byJob) {
      const key = `${row[3 + columns.indexOf("station")]} ${row[3 + columns.indexOf("job")]}`;
      const first = jobs.get(key) ?? kind;
      jobs.set(key, first);
      clusterOfKind[kind] = cluster === null ? -1 : first;
    } else if (cluster !== null && question.clusters === "panel") clusterOfKind[kind] = cluster;
    const raw = row.slice(3).join("\u0000");
    let combination = known.get(raw);
    if (combination === undefined) {
      combination = -1;
      if (filters.every(({ attribute, value }) => recordedValue(row, attribute).label === value)) {
        const values = specimenBy.map((name) => recordedValue(row, name));
        const key = JSON.stringify(values.map(({ label }) => label));
        combination = combinations.get(key) ?? combinationValues.push(values) - 1;
        combinations.set(key, combination);
      }
      known.set(raw, combination);
    }
    combinationOfKind[kind] = combination;
  }

  const strata: (Stratum & { index: number })[] = [];
  const stratumAt = new Map<number, number>();
  const stratumOf = (kind: number, group: number): number | null => {
    const combination = combinationOfKind[kind] ?? -1;
    if (combination === -1) return null;
    const key = combination * valuesOfGroup.length + group;
    let index = stratumAt.get(key);
    if (index === undefined) {
      index = strata.length;
      const ofKind = combinationValues[combination] ?? [];
      const ofGroup = valuesOfGroup[group] ?? [];
      const values = by.map(
        (name) => ofKind[specimenBy.indexOf(name)] ?? ofGroup[shotBy.indexOf(name)] ?? noValue,
      );
      strata.push({ values, label: values.map(({ label }) => label).join(", "), index });
      stratumAt.set(key, index);
    }
    return index;
  };

  return {
    points,
    groups,
    multiples: [...new Set(points.map(({ multiple }) => multiple))].toSorted((a, b) => a - b),
    stratumOf,
    clusterOf: (kind) => {
      const cluster = clusterOfKind[kind] ?? -1;
      return cluster === -1 ? null : cluster;
    },
    strata,
    overlapping: question.state !== "as-found" && shotBy.length > 0,
    inventedCounted,
  };
}

const noValue: StratumValue = { label: "", order: "" };

/** Order of two strata: value by value. */
export function compareStrata(a: Stratum, b: Stratum): number {
  for (const [at, value] of a.values.entries()) {
    const order = compareValues(value, b.values[at] ?? noValue);
    if (order !== 0) return order;
  }
  return 0;
}

function concerns({ failure, points, loading, only }: RateQuestion, point: ShotPoint): boolean {
  if (failure !== "any-fail" && point.trips !== (failure === "no-trip")) return false;
  if (points.length > 0 && !points.some((multiple) => Math.abs(multiple - point.multiple) < 1e-9))
    return false;
  if (loading !== null && point.loading !== loading) return false;
  return only.every(({ attribute, value }) => {
    const read = shotAttributes[attribute];
    return read === undefined || read(point).label === value;
  });
}

function groupPoints(points: readonly ShotPoint[], shotBy: readonly StratumAttribute[]) {
  const groups = new Map<number, number>();
  const valuesOfGroup: StratumValue[][] = [];
  const found = new Map<string, number>();
  for (const point of points) {
    const values = shotBy.map((name) => shotAttributes[name]?.(point) ?? noValue);
    const key = JSON.stringify(values.map(({ label }) => label));
    const group = found.get(key) ?? valuesOfGroup.push(values) - 1;
    found.set(key, group);
    groups.set(point.point, group);
  }
  return { groups, valuesOfGroup };
}
