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
    confirmed: boolean;
    basis: MeasurementBasis;
    rig: RigIdentity;
    link: string;
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
}
