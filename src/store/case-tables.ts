import type Database from "better-sqlite3";
import type { EntryBodies } from "../contract/ledger-entries.ts";
import type { Finding, Verdict } from "../core/limits/verdict.ts";
import type { Specimen } from "../core/specimen/specimen.ts";

/** Results and findings by the numbers that stand for them in `shot_cases`. Only ever append: stored rows hold the numbers. */
export const resultCodes = [
  "pass",
  "fail",
  "undetermined",
  "excluded",
] as const satisfies readonly Verdict["result"][];
export const findingCodes = [
  "tripped in time",
  "held as required",
  "late trip",
  "no trip",
  "inside the guard band",
  "too fast",
  "nuisance trip",
  "not decided",
] as const satisfies readonly Finding[];

/** Names of the projections that counting reads, and the column that orders each. */
export const caseTables = {
  specimen_kinds: "kind",
  specimen_clusters: "cluster",
  shot_points: "point",
  shot_cases: "sequence",
} as const;

/**
 * Projections for counting: narrow, so that a rate over a million specimens is one walk along an index.
 *
 * `specimen_kinds` holds each combination of attributes once, `specimen_clusters` each station, job and panel, and
 * `shot_points` each limit row and loading; `trips` is 1 where the row demands a trip. `shot_cases` holds one row for each
 * shot: `sequence` that of the entry that opened it, `specimen` that of the entry that received its specimen, `cluster` 0
 * where neither job nor panel is known; result and finding are null until it is closed.
 */
export const caseSchema = `
CREATE TABLE specimen_kinds (
  kind       INTEGER PRIMARY KEY,
  attributes TEXT NOT NULL UNIQUE,
  station    TEXT NOT NULL,
  demo       INTEGER NOT NULL,
  poles      INTEGER NOT NULL,
  rated_amps REAL NOT NULL,
  volts      REAL NOT NULL,
  frame_amps REAL,
  make_code  TEXT,
  type_code  TEXT,
  made_year  INTEGER,
  condition  TEXT,
  selection  TEXT,
  trip_type  TEXT
) STRICT;

CREATE TABLE specimen_clusters (
  cluster INTEGER PRIMARY KEY,
  station TEXT NOT NULL,
  job     TEXT,
  panel   TEXT
) STRICT;

CREATE INDEX clusters_by_place ON specimen_clusters (station, job, panel);

CREATE TABLE shot_points (
  point     INTEGER PRIMARY KEY,
  limit_set TEXT NOT NULL,
  limit_row TEXT NOT NULL,
  multiple  REAL NOT NULL,
  loading   TEXT NOT NULL,
  trips     INTEGER NOT NULL,
  UNIQUE (limit_set, limit_row, multiple, loading, trips)
) STRICT;

CREATE TABLE shot_cases (
  sequence INTEGER PRIMARY KEY,
  specimen INTEGER NOT NULL,
  as_found INTEGER NOT NULL,
  point    INTEGER NOT NULL,
  kind     INTEGER NOT NULL,
  cluster  INTEGER NOT NULL,
  result   INTEGER,
  finding  INTEGER
) STRICT;

CREATE INDEX cases_to_count ON shot_cases (as_found, point, kind, result, finding, cluster);
CREATE INDEX cases_of_specimen ON shot_cases (specimen, sequence);
`;

/** Enters shots as they are opened and closed. */
export interface CaseWriter {
  open(
    specimen: { sequence: number; specimen: string; details: string; demo: number },
    sequence: number,
    body: EntryBodies["shot-opened"],
  ): void;
  /** @param sequence that of the entry that opened the shot */
  close(sequence: number, verdict: Verdict): void;
  /** The details of a specimen were amended: its shots are counted by what is right. */
  describe(specimen: { sequence: number; specimen: string; details: string; demo: number }): void;
  /** The state before a shot was amended. @param sequence that of the entry that opened the shot */
  restate(sequence: number, asFound: boolean): void;
}

/** Fills the projections for counting in `database`. */
export function caseWriter(database: Database.Database): CaseWriter {
  const number = <P extends unknown[]>(sql: string) => database.prepare<P, number>(sql).pluck();
  const findKind = number<[string]>("SELECT kind FROM specimen_kinds WHERE attributes = ?");
  const insertKind = database.prepare(
    `INSERT INTO specimen_kinds VALUES (NULL, :attributes, :station, :demo, :poles, :ratedAmps, :volts, :frameAmps, :makeCode,
       :typeCode, :madeYear, :condition, :selection, :tripType)`,
  );
  const findCluster = number<[string, string | null, string | null]>(
    "SELECT cluster FROM specimen_clusters WHERE station = ? AND job IS ? AND panel IS ?",
  );
  const insertCluster = database.prepare("INSERT INTO specimen_clusters VALUES (NULL, ?, ?, ?)");
  const findPoint = number<[string, string, number, string, number]>(
    "SELECT point FROM shot_points WHERE limit_set = ? AND limit_row = ? AND multiple = ? AND loading = ? AND trips = ?",
  );
  const insertPoint = database.prepare<[string, string, number, string, number]>(
    "INSERT INTO shot_points (limit_set, limit_row, multiple, loading, trips) VALUES (?, ?, ?, ?, ?)",
  );
  const insertCase = database.prepare("INSERT INTO shot_cases VALUES (?, ?, ?, ?, ?, ?, NULL, NULL)");

  const moveCases = database.prepare("UPDATE shot_cases SET kind = ?, cluster = ? WHERE specimen = ?");
  const hasCases = number<[number]>("SELECT 1 FROM shot_cases WHERE specimen = ? LIMIT 1");
  const restateCase = database.prepare("UPDATE shot_cases SET as_found = ? WHERE sequence = ?");
  const closeCase = database.prepare("UPDATE shot_cases SET result = ?, finding = ? WHERE sequence = ?");

  const kindOf = (station: string, demo: number, details: Specimen): number => {
    const columns = {
      station,
      demo,
      poles: details.poles,
      ratedAmps: details.ratedAmps,
      volts: details.volts,
      frameAmps: details.frameAmps ?? null,
      makeCode: details.makeCode ?? null,
      typeCode: details.typeCode ?? null,
      madeYear: details.madeYear ?? null,
      condition: details.condition ?? null,
      selection: details.selection ?? null,
      tripType: details.tripType ?? null,
    };
    const attributes = JSON.stringify(Object.values(columns));
    return findKind.get(attributes) ?? Number(insertKind.run({ ...columns, attributes }).lastInsertRowid);
  };

  const clusterOf = (
    station: string,
    { job = null, panel = null }: { job?: string | null; panel?: string | null },
  ) => {
    if (job === null && panel === null) return 0;
    return (
      findCluster.get(station, job, panel) ?? Number(insertCluster.run(station, job, panel).lastInsertRowid)
    );
  };

  return {
    open: (specimen, sequence, body) => {
      const point = [
        body.limitSet,
        body.row.id,
        body.row.multiple,
        body.loading,
        body.row.requirement.kind === "hold-for" ? 0 : 1,
      ] as const;
      const details = JSON.parse(specimen.details) as Specimen;
      const station = stationOf(specimen.specimen);
      insertCase.run(
        sequence,
        specimen.sequence,
        body.state.kind === "as-found" ? 1 : 0,
        findPoint.get(...point) ?? Number(insertPoint.run(...point).lastInsertRowid),
        kindOf(station, specimen.demo, details),
        clusterOf(station, details),
      );
    },
    close: (sequence, { result, finding }) => {
      closeCase.run(resultCodes.indexOf(result), findingCodes.indexOf(finding), sequence);
    },
    describe: ({ sequence, specimen, details: text, demo }) => {
      if (hasCases.get(sequence) === undefined) return;
      const details = JSON.parse(text) as Specimen;
      const station = stationOf(specimen);
      moveCases.run(kindOf(station, demo, details), clusterOf(station, details), sequence);
    },
    restate: (sequence, asFound) => {
      restateCase.run(asFound ? 1 : 0, sequence);
    },
  };
}

/** The station at the beginning of an identifier: `7K2M` of `7K2M-S0012`. */
const stationOf = (id: string): string => id.split("-")[0] ?? id;
