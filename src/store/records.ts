import type Database from "better-sqlite3";
import type { LedgerEntry } from "../contract/ledger-entries.ts";
import type { Verdict } from "../core/limits/verdict.ts";
import type { Reading } from "../core/signal/reading.ts";
import type { Loading, OperationState, Specimen } from "../core/specimen/specimen.ts";
import { entryOf, type LedgerRow, ledgerColumns } from "./ledger-rows.ts";
import { StoreError } from "./store-error.ts";

/** The station of a ledger, from its first entry. */
export interface StationRecord {
  station: string;
  publicKey: string;
  lab: string;
  demo: boolean;
  openedAt: string;
}

/** A specimen as it stands now. `operations` and `shots` count since receipt; `state` is that of its next shot. */
export interface SpecimenRecord {
  specimen: string;
  /** Sequence of the entry that received it. */
  sequence: number;
  receivedAt: string;
  details: Specimen;
  /** True for invented specimens, and for all of a demo lab. */
  demo: boolean;
  state: OperationState;
  operations: number;
  shots: number;
}

/** A shot in a list. What only a closed shot has is null while it is open. */
export interface ShotRecord {
  shot: string;
  number: number;
  /** Sequences of the entries that opened and closed it. */
  sequence: number;
  closedSequence: number | null;
  openedAt: string;
  closedAt: string | null;
  specimen: string;
  label: string;
  ratedAmps: number;
  poles: number;
  volts: number;
  job: string | null;
  demo: boolean;
  limitSet: string;
  limitRow: string;
  multiple: number;
  loading: Loading;
  targetAmps: number;
  /** State of the specimen before the shot. */
  state: OperationState;
  outcome: Reading["outcome"] | null;
  seconds: number | null;
  heldSeconds: number | null;
  samples: number | null;
  result: Verdict["result"] | null;
  finding: Verdict["finding"] | null;
  reading: Reading | null;
  verdict: Verdict | null;
}

/** A shot with the entries that opened and closed it. */
export interface FullShot {
  record: ShotRecord;
  opened: LedgerEntry<"shot-opened">;
  closed: LedgerEntry<"shot-closed"> | null;
}

/** Questions to the projections. Whatever is not there is null or an empty list, never an error. */
export interface Records {
  station(): StationRecord | null;
  /** In order of receipt. */
  specimens(): SpecimenRecord[];
  specimen(id: string): SpecimenRecord | null;
  specimenByLabel(label: string): SpecimenRecord | null;
  /** Newest first. `before` is a `sequence`: only older shots, for the next page. `limit` is 1 or more, by default all. */
  shots(filter?: { specimen?: string; limit?: number; before?: number }): ShotRecord[];
  shot(id: string): FullShot | null;
  /** Shots without a closing entry, oldest first: one is running, or a crash cut them off. */
  openShots(): ShotRecord[];
  /** Identifier for the next specimen; `ahead` for the one so many after it, where several are received at once. */
  nextSpecimenId(ahead?: number): string;
  /** Identifier and number for the next shot. */
  nextShot(): { shot: string; number: number };
}

type StationRow = Omit<StationRecord, "demo"> & { demo: number };
type SpecimenRow = Omit<SpecimenRecord, "demo" | "state" | "details"> & {
  demo: number;
  exercised: number;
  details: string;
};
type ShotRow = Omit<ShotRecord, "demo" | "state" | "reading" | "verdict"> & {
  demo: number;
  state: OperationState["kind"];
  operations: number;
  reading: string | null;
  verdict: string | null;
};

const stations = `SELECT station, public_key AS publicKey, lab, demo, opened_at AS openedAt FROM stations`;
const specimens = `SELECT specimen, sequence, received_at AS receivedAt, details, demo, exercised, operations, shots FROM specimens`;
const shots = `SELECT shot, number, sequence, closed_sequence AS closedSequence, opened_at AS openedAt, closed_at AS closedAt,
  specimen, label, rated_amps AS ratedAmps, poles, volts, job, demo, limit_set AS limitSet, limit_row AS limitRow, multiple,
  loading, target_amps AS targetAmps, state, operations, outcome, seconds, held_seconds AS heldSeconds, samples, result,
  finding, reading, verdict FROM shots`;

/** Answers from the projections of an open database. */
export function records(database: Database.Database): Records {
  const station = database.prepare<[], StationRow>(`${stations} ORDER BY sequence`);
  const specimen = database.prepare<[string], SpecimenRow>(`${specimens} WHERE specimen = ?`);
  const labelled = database.prepare<[string], SpecimenRow>(`${specimens} WHERE label = ?`);
  const allSpecimens = database.prepare<[], SpecimenRow>(`${specimens} ORDER BY sequence`);
  const shot = database.prepare<[string], ShotRow>(`${shots} WHERE shot = ?`);
  const openShots = database.prepare<[], ShotRow>(`${shots} WHERE closed_sequence IS NULL ORDER BY sequence`);
  const listedShots = database.prepare<
    [{ only: string | null; before: number | null; limit: number }],
    ShotRow
  >(
    `${shots} WHERE (:only IS NULL OR specimen = :only) AND (:before IS NULL OR sequence < :before)
     ORDER BY sequence DESC LIMIT :limit`,
  );
  const entry = database.prepare<[number], LedgerRow>(
    `SELECT ${ledgerColumns} FROM ledger WHERE sequence = ?`,
  );

  /** Highest number among identifiers of this station, such as 12 for 7K2M-T0012. */
  const lastNumber = (prefix: string, table: "specimens" | "shots", column: "specimen" | "shot"): number =>
    database
      .prepare<[number, string], number>(
        `SELECT COALESCE(MAX(CAST(substr(${column}, ?) AS INTEGER)), 0) FROM ${table} WHERE ${column} GLOB ?`,
      )
      .pluck()
      .get(prefix.length + 1, `${prefix}[0-9]*`) ?? 0;
  const ownStation = (): string => {
    const row = station.get();
    if (row === undefined) throw new StoreError("refused", "the ledger is empty: open the station first");
    return row.station;
  };

  return {
    station: () => {
      const row = station.get();
      return row === undefined ? null : { ...row, demo: row.demo === 1 };
    },
    specimens: () => allSpecimens.all().map(specimenOf),
    specimen: (id) => specimen.all(id).map(specimenOf)[0] ?? null,
    specimenByLabel: (label) => labelled.all(label).map(specimenOf)[0] ?? null,
    shots: ({ specimen: only, limit, before } = {}) => {
      if (limit !== undefined && !(Number.isSafeInteger(limit) && limit >= 1))
        throw new RangeError(`limit must be a whole number, 1 or more; found ${limit}`);
      return listedShots.all({ only: only ?? null, before: before ?? null, limit: limit ?? -1 }).map(shotOf);
    },
    shot: (id) => {
      const row = shot.get(id);
      if (row === undefined) return null;
      const opened = entry.get(row.sequence);
      const closed = row.closedSequence === null ? null : entry.get(row.closedSequence);
      if (opened === undefined || closed === undefined)
        throw new StoreError("damaged", `an entry of shot ${id} is missing: rebuild the projections`);
      return {
        record: shotOf(row),
        opened: entryOf<"shot-opened">(opened),
        closed: closed === null ? null : entryOf<"shot-closed">(closed),
      };
    },
    openShots: () => openShots.all().map(shotOf),
    nextSpecimenId: (ahead = 0) => {
      const prefix = `${ownStation()}-S`;
      return prefix + padded(lastNumber(prefix, "specimens", "specimen") + 1 + ahead);
    },
    nextShot: () => {
      const prefix = `${ownStation()}-T`;
      const number = lastNumber(prefix, "shots", "shot") + 1;
      return { shot: prefix + padded(number), number };
    },
  };
}

const padded = (number: number): string => String(number).padStart(4, "0");

function specimenOf({ exercised, details, demo, ...row }: SpecimenRow): SpecimenRecord {
  return {
    ...row,
    details: JSON.parse(details) as Specimen,
    demo: demo === 1,
    state: exercised === 0 ? { kind: "as-found" } : { kind: "exercised", operations: row.operations },
  };
}

function shotOf({ demo, state, operations, reading, verdict, ...row }: ShotRow): ShotRecord {
  return {
    ...row,
    demo: demo === 1,
    state: state === "as-found" ? { kind: state } : { kind: state, operations },
    reading: reading === null ? null : (JSON.parse(reading) as Reading),
    verdict: verdict === null ? null : (JSON.parse(verdict) as Verdict),
  };
}
