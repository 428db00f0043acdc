import type Database from "better-sqlite3";
import type { Finding } from "../core/limits/verdict.ts";
import type { Loading } from "../core/specimen/specimen.ts";
import { findingCodes, resultCodes } from "./case-tables.ts";

/** A limit row and loading at which shots were made. */
export interface ShotPoint {
  point: number;
  limitSet: string;
  limitRow: string;
  multiple: number;
  loading: Loading;
  /** Whether the row demands a trip. */
  trips: boolean;
}

/** What became of a specimen. Higher is worse, apart from what was not decided. */
export type Grade = "excluded" | "undetermined" | "passed" | "failed";
const grades: readonly Grade[] = ["excluded", "undetermined", "passed", "failed"];

/** Which shots count, and how. */
export interface CountQuery {
  state: "as-found" | "exercised" | "any";
  /** Group of each point that counts; a specimen counts once in each group. */
  groups: ReadonlyMap<number, number>;
  /** Findings that are failures; every other decided shot passed. */
  failing: readonly Finding[];
  /**
   * Where a specimen has several shots of a group: `worst` takes failed before passed before undetermined before excluded,
   * `first` the earliest shot.
   */
  take: "worst" | "first";
}

/**
 * Told for so many specimens of one kind and cluster (0 where neither job nor panel is known) that ended with this grade at the
 * points of one group.
 */
export type Tell = (kind: number, cluster: number, group: number, grade: Grade, specimens: number) => void;

/** Columns of a kind of specimen, as they were recorded; null where not known. */
export const kindColumns = {
  station: "station",
  poles: "poles",
  ratedAmps: "rated_amps",
  volts: "volts",
  frameAmps: "frame_amps",
  makeCode: "make_code",
  typeCode: "type_code",
  madeYear: "made_year",
  condition: "condition",
  selection: "selection",
  tripType: "trip_type",
} as const;
export type KindColumn = keyof typeof kindColumns;

/** A kind of specimen: its number, whether invented, and the columns asked for. */
export type KindRow = [kind: number, demo: number, ...values: (string | number | null)[]];

/** A place from which specimens came. */
export interface ClusterRow {
  cluster: number;
  station: string;
  job: string | null;
  panel: string | null;
}

/** One shot of a specimen that counts, with its times. */
export interface TimedCase {
  specimen: string;
  shot: string;
  asFound: boolean;
  label: string;
  kind: number;
  cluster: number;
  point: number;
  outcome: "tripped" | "held" | "interrupted";
  seconds: number | null;
  heldSeconds: number;
  result: (typeof resultCodes)[number];
  finding: Finding;
  limitSeconds: number | null;
}

/** Questions to the projections for counting. */
export interface FailureCounts {
  points(): ShotPoint[];
  /** All kinds, in order of their numbers from 1 on, with the columns named. */
  kinds(columns: readonly KindColumn[]): KindRow[];
  /** All clusters, in order of their numbers from 1 on; only those without a job where asked. */
  clusters(withoutJob?: boolean): ClusterRow[];
  count(query: CountQuery, tell: Tell): void;
  /** Every closed shot in this state, specimen by specimen in order of receipt, and of each specimen in order. */
  timed(state: CountQuery["state"]): TimedCase[];
  /** Specimens in order of receipt, with their closed shots in order. */
  listed(page: { after: number; limit: number }): {
    sequence: number;
    specimen: string;
    label: string;
    demo: boolean;
    shots: TimedCase[];
  }[];
  /** Specimens received, and how many of them are invented. */
  received(): { specimens: number; demo: number };
}

type CodedCase = [
  specimen: number,
  kind: number,
  cluster: number,
  point: number,
  result: number,
  finding: number,
];

/** Answers from the projections of an open database. */
export function failureCounts(database: Database.Database): FailureCounts {
  const points = database.prepare<[], Omit<ShotPoint, "trips"> & { trips: number }>(
    `SELECT point, limit_set AS limitSet, limit_row AS limitRow, multiple, loading, trips FROM shot_points ORDER BY point`,
  );
  const received = database
    .prepare<[number], number>("SELECT COUNT(*) FROM specimens WHERE demo = ?")
    .pluck();
  const clusters = database.prepare<[number], ClusterRow>(
    "SELECT cluster, station, job, panel FROM specimen_clusters WHERE ? = 0 OR job IS NULL ORDER BY cluster",
  );
  /**
   * A specimen has at most one shot as found: its groups can be counted without telling specimens apart. Clusters come as one
   * text a kind, which takes a third of the time of a row each.
   */
  const asFound = database
    .prepare<[number], [kind: number, result: number, finding: number, clusters: string]>(
      `SELECT kind, result, finding, group_concat(cluster) FROM shot_cases
       WHERE as_found = 1 AND point = ? AND result IS NOT NULL GROUP BY kind, result, finding`,
    )
    .raw();
  const later = database
    .prepare<[number], CodedCase>(
      `SELECT specimen, kind, cluster, point, result, finding FROM shot_cases
       WHERE result IS NOT NULL AND (? = 1 OR as_found = 0) ORDER BY specimen, sequence`,
    )
    .raw();
  type TimedRow = Omit<TimedCase, "asFound"> & { asFound: number };
  const timedColumns = `SELECT s.specimen, s.shot, c.as_found AS asFound, s.label, c.kind, c.cluster, c.point, s.outcome, s.seconds,
       s.held_seconds AS heldSeconds, s.result, s.finding, json_extract(s.verdict, '$.limitSeconds') AS limitSeconds
     FROM shot_cases c JOIN shots s ON s.sequence = c.sequence WHERE c.result IS NOT NULL`;
  const timed = database.prepare<[number, number], TimedRow>(
    `${timedColumns} AND (? = 1 OR c.as_found = ?) ORDER BY c.specimen, c.sequence`,
  );
  const shotsOf = database.prepare<[number], TimedRow>(
    `${timedColumns} AND c.specimen = ? ORDER BY c.sequence`,
  );
  const page = database.prepare<
    [number, number],
    { sequence: number; specimen: string; label: string; demo: number }
  >("SELECT sequence, specimen, label, demo FROM specimens WHERE sequence > ? ORDER BY sequence LIMIT ?");
  const timedOf = (row: TimedRow): TimedCase => ({ ...row, asFound: row.asFound === 1 });

  const graded = ({ failing }: CountQuery) => {
    const failed = new Set(failing.map((finding) => findingCodes.indexOf(finding)));
    return (result: number, finding: number): number => {
      if (resultCodes[result] === "excluded") return 0;
      if (resultCodes[result] === "undetermined") return 1;
      return failed.has(finding) ? 3 : 2;
    };
  };

  const countAsFound = (query: CountQuery, tell: Tell): void => {
    const grade = graded(query);
    for (const [point, group] of query.groups)
      for (const [kind, result, finding, text] of asFound.iterate(point))
        tellRuns(text, (cluster, specimens) =>
          tell(kind, cluster, group, grades[grade(result, finding)] as Grade, specimens),
        );
  };

  const countShotByShot = (query: CountQuery, tell: Tell): void => {
    const grade = graded(query);
    let [specimen, kind, cluster] = [0, 0, 0];
    const ofSpecimen = new Map<number, number>();
    const enter = () => {
      for (const [group, code] of ofSpecimen) tell(kind, cluster, group, grades[code] as Grade, 1);
      ofSpecimen.clear();
    };
    for (const [next, nextKind, nextCluster, point, result, finding] of later.iterate(
      query.state === "any" ? 1 : 0,
    )) {
      if (next !== specimen) enter();
      [specimen, kind, cluster] = [next, nextKind, nextCluster];
      const group = query.groups.get(point);
      if (group === undefined) continue;
      const before = ofSpecimen.get(group);
      if (before === undefined) ofSpecimen.set(group, grade(result, finding));
      else if (query.take === "worst") ofSpecimen.set(group, Math.max(before, grade(result, finding)));
    }
    enter();
  };

  return {
    points: () => points.all().map((row) => ({ ...row, trips: row.trips === 1 })),
    kinds: (columns) =>
      database
        .prepare<[], KindRow>(
          `SELECT ${["kind", "demo", ...columns.map((name) => kindColumns[name])].join(", ")}
           FROM specimen_kinds ORDER BY kind`,
        )
        .raw()
        .all(),
    clusters: (withoutJob = false) => clusters.all(withoutJob ? 1 : 0),
    count: (query, tell) => (query.state === "as-found" ? countAsFound : countShotByShot)(query, tell),
    timed: (state) => timed.all(state === "any" ? 1 : 0, state === "as-found" ? 1 : 0).map(timedOf),
    listed: ({ after, limit }) =>
      page.all(after, limit).map(({ demo, ...row }) => ({
        ...row,
        demo: demo === 1,
        shots: shotsOf.all(row.sequence).map(timedOf),
      })),
    received: () => {
      const demo = received.get(1) ?? 0;
      return { specimens: demo + (received.get(0) ?? 0), demo };
    },
  };
}

/** Whole numbers separated by commas, told with how often each stands in a row. */
function tellRuns(text: string, tell: (value: number, times: number) => void): void {
  let previous = -1;
  let times = 0;
  let value = 0;
  for (let at = 0; at <= text.length; at += 1) {
    const code = at < text.length ? text.charCodeAt(at) : 44;
    if (code !== 44) {
      value = 10 * value + code - 48;
      continue;
    }
    if (value === previous) times += 1;
    else {
      if (times > 0) tell(previous, times);
      previous = value;
      times = 1;
    }
    value = 0;
  }
  if (times > 0) tell(previous, times);
}
