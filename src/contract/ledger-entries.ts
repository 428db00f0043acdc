import type { Band } from "../core/limits/band.ts";
import type { LimitRow } from "../core/limits/limit-set.ts";
import type { DecisionRule, Verdict } from "../core/limits/verdict.ts";
import type { Reading } from "../core/signal/reading.ts";
import type { HostEnd, RigResult } from "../core/signal/shot-signal.ts";
import type { Loading, OperationState, Specimen } from "../core/specimen/specimen.ts";

/** What a rig said of itself. */
export interface RigIdentity {
  protocol: number;
  model: string;
  serial: string;
  firmware: string;
  lowestAmps: number;
  highestAmps: number;
  timerSeconds: number;
  tickHz: number;
  lineHz: number;
  rawHz: number;
  longestSeconds: number;
  emulated: boolean;
}

/** What the uncertainty of a shot rests on: the rig's figures as they were when the shot was made. */
export interface MeasurementBasis {
  /** Relative expanded uncertainty of the current, in percent, with its k. */
  currentPercent: number;
  currentK: number;
  timerSeconds: number;
  /** Departure of the current from its target from which on a reading is flagged, in percent. */
  regulationPercent: number;
  /** Pick-up, as a multiple of rating, from which the sensitivity of time to current follows. */
  pickup: number;
  /** In words: where these figures come from. */
  from: string;
  /** True where a calibration of the rig was past due; left out otherwise. */
  pastDue?: true;
}

/** Whether a specimen was cold before a shot. `preload`: the steady multiple of rated current that the heat left equals. */
export interface ShotColdness {
  verdict: "cold" | "not cold" | "unknown";
  preload: number;
  words: string;
}

/** The choice between a lab's band and a row of a limit set. `bandHash` is SHA-256 of the band's canonical JSON. */
export interface LimitChoice {
  by: "band" | "table";
  band: Band;
  bandHash: string;
  words: string;
}

/** Bodies of the ledger's entries, by kind. Identifiers are `<station>-S0001` for specimens, `<station>-T0001` for shots. */
export interface EntryBodies {
  /** First entry of every ledger. `publicKey` is the station's Ed25519 key, hex. */
  "station-opened": { station: string; publicKey: string; lab: string; demo: boolean };
  "specimen-received": { specimen: string; details: Specimen };
  "handle-moved": { specimen: string; operations: number; note: string };
  /** Everything that was decided before the current was switched on. */
  "shot-opened": {
    shot: string;
    number: number;
    specimen: string;
    state: OperationState;
    limitSet: string;
    limitSetHash: string;
    limitIncludesGuardBand: boolean;
    row: LimitRow;
    loading: Loading;
    ratedAmps: number;
    targetAmps: number;
    endAtSeconds: number;
    rule: DecisionRule;
    /** Whether the lab had confirmed what the shot is judged by. */
    confirmed: boolean;
    /** Only where a lab's band applied beside the row: the band whole, and which of the two decides, with the choice in words. */
    choice?: LimitChoice;
    basis: MeasurementBasis;
    rig: RigIdentity;
    link: string;
    /** State of heat before the current, by the model; left out by versions that did not decide it. */
    coldness?: ShotColdness;
  };
  /** `samplesHash` is the SHA-256 over all blocks of the shot in order; see store/sample-blocks.ts for the bytes. */
  "shot-closed": {
    shot: string;
    hostEnd: HostEnd;
    samples: number;
    blocks: number;
    samplesHash: string;
    rigResult: RigResult | null;
    ambientCelsius: number | null;
    lineHealth: { damaged: number; askedAgain: number; missing: number } | null;
    reading: Reading;
    verdict: Verdict;
  };
  /** A lab compared rows of a limit set with its own copy of the document. `rows` are row identifiers. */
  "limit-set-confirmed": {
    limitSet: string;
    limitSetHash: string;
    document: string;
    edition: string;
    rows: string[];
    by: string;
    on: string;
    note: string;
  };
  /** A lab added its own time-current band, digitised from a published curve. */
  "band-added": { band: Band; makeCode: string | null; typeCode: string | null; tableHash: string };
  /** Calibration of the rig or of one of its instruments. `expandedPercent` is U in percent of reading, with its k. */
  "calibration-recorded": {
    instrument: string;
    serial: string;
    quantity: "current" | "time" | "temperature";
    certificate: string;
    issuer: string;
    on: string;
    due: string;
    points: { value: number; unit: string; deviation: number; expanded: number }[];
    expandedPercent: number | null;
    expandedSeconds: number | null;
    k: number;
  };
  /** What the lab has decided for all its work; the newest holds. Older versions of the program left `gate` out. */
  "policy-set": LabPolicy;
  /** Programme, limit set and decision rule of a specimen, locked before its first current; a later one is an amendment. */
  "programme-locked": {
    specimen: string;
    programme: string;
    limitSet: string;
    rule: DecisionRule;
    amends: number | null;
    why: string;
  };
  /** Counts taken from a publication. */
  "study-recorded": { study: StudyCounts; fileHash: string };
  /** A job, named as the specimens' field `job` names it. */
  "job-opened": JobDetails;
  "custody-moved": CustodyEvent;
  /** `photograph` is the SHA-256 of the file kept in the data directory; `takenAt` is UTC, as told by who added it. */
  "photograph-added": {
    photograph: string;
    about: Subject;
    name: string;
    mediaType: "image/png" | "image/jpeg";
    bytes: number;
    width: number;
    height: number;
    shows: "as received" | "marking" | "seal" | "opened" | "after test" | "other";
    takenAt: string | null;
    note: string;
  };
  /** What was in place before the first current of a specimen, and what was skipped, with the reason. */
  "gate-passed": GatePassage;
  /**
   * One field of an earlier entry corrected. `path` is a JSON pointer (RFC 6901) into its body; `before` is left out where the
   * field was not there, `after` where it is taken away.
   */
  "entry-amended": {
    amends: number;
    kind: EntryKind;
    about: Subject | null;
    path: string;
    before?: unknown;
    after?: unknown;
    why: string;
  };
  /** A second person has checked a record as it stood at entry `through`. */
  "record-reviewed": {
    about: ReviewSubject;
    through: number;
    finding: "accepted" | "returned";
    note: string;
  };
  /** Issue number of the record, counted from 1; `review` is the sequence of the review that it rests on. */
  "record-released": { about: ReviewSubject; issue: number; review: number; note: string };
  /**
   * An authority's time stamp (RFC 3161) over the statement of the ledger as it stood at entry `entries`, see
   * core/evidence/head-statement.ts. `imprint` is the statement's SHA-256, `time` what the authority says, UTC, `response` its
   * answer whole, DER in base64.
   */
  "time-stamped": { entries: number; head: string; imprint: string; time: string; response: string };
  /** What a person may do from now on; the newest holds, and no roles at all shut the person out. */
  "roles-given": { person: string; roles: Role[]; why: string };
  /** `verifier` is the SHA-256 of what a password of the person is checked against, which itself is kept beside the ledger. */
  "password-set": { person: string; verifier: string };
  /** A person showed the password. Entries that the person makes under it name this one as their `signIn`. */
  "signed-in": { person: string };
}

/**
 * What a person may do. `viewer` reads and makes exhibits, as everyone who may sign in does; `operator` enters records and drives
 * the bench; `reviewer` reviews, releases and confirms limit sets; `administrator` decides for the lab and who may do what.
 */
export type Role = "viewer" | "operator" | "reviewer" | "administrator";

/** What an entry is about: a specimen or a shot by its identifier, a job by its name. */
export interface Subject {
  kind: "specimen" | "shot" | "job";
  id: string;
}
export interface ReviewSubject extends Subject {
  kind: "specimen" | "shot";
}

/** Where specimens were removed, for whom, by whom and on what authority. Null: not told. */
export interface JobDetails {
  job: string;
  site: string;
  /** Day of the removal, YYYY-MM-DD. */
  on: string;
  clientReference: string | null;
  removedBy: string | null;
  authority: string | null;
  circumstances: string;
  panels: string[];
}

export type CustodyEventKind =
  | "receipt"
  | "transfer"
  | "storage"
  | "opening"
  | "testing"
  | "return"
  | "disposal";

/**
 * One event in the custody of a specimen, or of all specimens of a job: from whom, to whom, when observed (UTC). What lasted,
 * such as a storage, ends at `observedUntil`; null for a moment. The entry's own time is when it was entered.
 */
export interface CustodyEvent {
  about: Subject;
  event: CustodyEventKind;
  from: string;
  to: string;
  observedAt: string;
  observedUntil: string | null;
  seals: { number: string; condition: "intact" | "broken" | "removed" | "applied" }[];
  condition: string;
  note: string;
}

/** What a lab may demand before the first current of a specimen. */
export type GateItem = "photographs" | "checks" | "programmeLocked" | "parties" | "authority";
export type GateDemand = "demanded" | "not demanded";

/** `photographs` are hashes, `programmeLock` is the sequence of the lock, both as they stood. */
export interface GatePassage {
  specimen: string;
  photographs: string[];
  programmeLock: number | null;
  /** Checks that alter nothing, with what was found. */
  checks: { check: string; found: string }[];
  /** Who was told, on which day, and what they answered. */
  parties: { party: string; notifiedOn: string; answer: string }[];
  present: string[];
  authority: { by: string; on: string; words: string } | null;
  skipped: { item: GateItem; reason: string }[];
  note: string;
}

/** What a lab has decided for all its work. */
export interface LabPolicy {
  /** A rig whose calibration is past due: no shot, or a flag on every shot. */
  pastDueCalibration: "block" | "flag";
  /** Where a lab's band and a published table both apply, which is judged by. */
  precedence: "band first" | "table first";
  /** What is done with a shot on a specimen that is not cold by the model. */
  notCold: "block" | "flag";
  /** Cooling time constant of specimens, seconds, for whether they are cold. */
  coolingTauSeconds: number;
  /** What must be in place, or be skipped with a reason, before the first current of a specimen. */
  gate: Readonly<Record<GateItem, GateDemand>>;
}

/** Counts of one stratum of one study. */
export interface StudyCounts {
  study: string;
  year: number;
  stratum: string;
  criterion: string;
  multiple: number | null;
  tested: number;
  failed: number;
  selection: "all of a panel" | "at random" | "on suspicion" | "unknown";
  /** Answers to the risk-of-bias questions, by their short names. */
  riskOfBias: Readonly<Record<string, "low" | "high" | "unclear">>;
  citation: string;
}
export type EntryKind = keyof EntryBodies;

/**
 * One entry of the ledger. `hash` is SHA-256 over the RFC 8785 canonical form of all other fields but `signature`; `previous`
 * is the hash of the entry before, 64 zeros for the first. `signature` is the station's Ed25519 signature over the 32
 * bytes of the hash, hex.
 */
export interface LedgerEntry<K extends EntryKind = EntryKind> {
  sequence: number;
  station: string;
  at: string;
  actor: string;
  kind: K;
  body: EntryBodies[K];
  previous: string;
  hash: string;
  signature: string;
  /** Sequence of the entry under which the actor signed in; left out where the name was only typed. */
  signIn?: number;
}
