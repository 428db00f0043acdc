import type { RateQuestion, StratumAttribute } from "../contract/rates.ts";
import type { KindColumn, ShotPoint } from "../store/failure-counts.ts";
import type { Lab } from "./lab.ts";
import { stationOf } from "./open-lab.ts";
import {
  clusterAttributes,
  compareValues,
  type StratumValue,
  shotAttributes,
  specimenAttributes,
} from "./rates-strata.ts";

/** One stratum: its values in the order of the question's attributes. */
export interface Stratum {
  values: StratumValue[];
  label: string;
}

/** The points and specimens that a question is about, and the stratum of each. */
export interface Selection {
  /** Group of each point that counts: points of one group fall in the same strata. */
  groups: Map<number, number>;
  /** Multiples of the points that count, rising. */
  multiples: number[];
  /** Index among `strata` of specimens of this kind and cluster at points of this group; null where they do not count. */
  stratumOf(kind: number, cluster: number, group: number): number | null;
  /** Number of the cluster in which they are alike; null for each on its own. */
  alikeIn(cluster: number): number | null;
  /** Grows as strata are met. */
  strata: Stratum[];
  /** True where one specimen may stand in several strata. */
  overlapping: boolean;
  inventedCounted: boolean;
}

/** Finds which points and kinds of specimens a question is about. */
export function selectCases(lab: Pick<Lab, "store">, question: RateQuestion): Selection {
  const inventedCounted = stationOf(lab).demo;
  const points = lab.store.failureCounts.points().filter((point) => concerns(question, point));
  const ofPoint = pointClasses(points, question);
  const ofKind = kindClasses(lab, question, inventedCounted);
  const ofCluster = clusterClasses(lab, question);
  const strata: Stratum[] = [];
  const stratumAt = new Map<number, number>();
  const stratumOf = (kind: number, cluster: number, group: number): number | null => {
    const kindClass = ofKind.classOf[kind] ?? none;
    const clusterClass = ofCluster.classOf === null ? 0 : (ofCluster.classOf[cluster] ?? none);
    if (kindClass === none || clusterClass === none) return null;
    const key =
      (kindClass * ofCluster.values.length + clusterClass) * Math.max(1, ofPoint.values.length) + group;
    const known = stratumAt.get(key);
    if (known !== undefined) return known;
    const valueAt = {
      ...ofKind.values[kindClass],
      ...ofCluster.values[clusterClass],
      ...ofPoint.values[group],
    };
    const values = question.by.map((name) => valueAt[name] ?? noValue);
    stratumAt.set(key, strata.length);
    return strata.push({ values, label: values.map(({ label }) => label).join(", ") }) - 1;
  };
  return {
    groups: ofPoint.groups,
    multiples: [...new Set(points.map(({ multiple }) => multiple))].toSorted((a, b) => a - b),
    stratumOf,
    alikeIn: ofCluster.alikeIn,
    strata,
    overlapping:
      question.state !== "as-found" && question.by.some((name) => shotAttributes[name] !== undefined),
    inventedCounted,
  };
}

type Values = Partial<Record<StratumAttribute, StratumValue>>;
const none = -1;
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

/** Numbers the distinct combinations of values. */
class Classes {
  readonly values: Values[] = [];
  readonly #known = new Map<string, number>();

  numberOf(values: Values): number {
    const key = JSON.stringify(Object.values(values).map(({ label }) => label));
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    this.#known.set(key, this.values.length);
    return this.values.push(values) - 1;
  }
}

function pointClasses(points: readonly ShotPoint[], { by }: RateQuestion) {
  const classes = new Classes();
  const groups = new Map<number, number>();
  for (const point of points) {
    const entries = by.flatMap((name) => {
      const read = shotAttributes[name];
      return read === undefined ? [] : [[name, read(point)] as const];
    });
    groups.set(point.point, classes.numberOf(Object.fromEntries(entries)));
  }
  return { groups, values: classes.values };
}

function kindClasses(lab: Pick<Lab, "store">, { by, only }: RateQuestion, inventedCounted: boolean) {
  const used = [...new Set([...by, ...only.map(({ attribute }) => attribute)])].filter(
    (name) => specimenAttributes[name] !== undefined,
  );
  const columns = [...new Set<KindColumn>(used.flatMap((name) => specimenAttributes[name]?.columns ?? []))];
  const classes = new Classes();
  const classOf: number[] = [];
  for (const [kind, demo, ...recorded] of lab.store.failureCounts.kinds(columns)) {
    classOf[kind] = none;
    if (demo === 1 && !inventedCounted) continue;
    const recordedValue = (name: StratumAttribute) => {
      const attribute = specimenAttributes[name];
      return attribute?.value(...attribute.columns.map((column) => recorded[columns.indexOf(column)]));
    };
    const wanted = only.every(({ attribute, value }) => (recordedValue(attribute)?.label ?? value) === value);
    if (!wanted) continue;
    const entries = by.flatMap((name) => {
      const value = recordedValue(name);
      return value === undefined ? [] : [[name, value] as const];
    });
    classOf[kind] = classes.numberOf(Object.fromEntries(entries));
  }
  return { classOf, values: classes.values };
}

/** `classOf` is null where the question does not ask for places: all are of class 0 then. */
function clusterClasses(lab: Pick<Lab, "store">, { by, only, clusters: clustering }: RateQuestion) {
  const filters = only.filter(({ attribute }) => clusterAttributes[attribute] !== undefined);
  const divided = by.filter((name) => clusterAttributes[name] !== undefined);
  const asked = divided.length > 0 || filters.length > 0;
  const byJob = clustering === "job";
  const clusters = lab.store.failureCounts.clusters(!asked && !byJob);
  const classes = new Classes();
  const classOf: number[] = [];
  const jobs = new Map<string, number>();
  const jobOf: number[] = [];
  const alone = new Set<number>([0]);
  const unknown = { cluster: 0, station: "", job: null, panel: null };
  for (const place of [unknown, ...clusters]) {
    if (place.job === null) alone.add(place.cluster);
    const key = `${place.station} ${place.job}`;
    jobOf[place.cluster] = jobs.get(key) ?? place.cluster;
    if (!jobs.has(key)) jobs.set(key, place.cluster);
    const wanted = filters.every(
      ({ attribute, value }) => clusterAttributes[attribute]?.(place).label === value,
    );
    classOf[place.cluster] = wanted
      ? classes.numberOf(
          Object.fromEntries(divided.map((name) => [name, clusterAttributes[name]?.(place) ?? noValue])),
        )
      : none;
  }
  return {
    values: asked ? classes.values : [{}],
    classOf: asked ? classOf : null,
    alikeIn: (cluster: number): number | null => {
      if (clustering === "none" || alone.has(cluster)) return null;
      return byJob ? (jobOf[cluster] ?? cluster) : cluster;
    },
  };
}
