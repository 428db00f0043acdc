import Type from "typebox";
import type { LimitSet, TestPoint } from "../core/limits/limit-set.ts";
import type { Verdict } from "../core/limits/verdict.ts";
import type { Reading } from "../core/signal/reading.ts";
import type { Loading, OperationState, Specimen } from "../core/specimen/specimen.ts";
import { decisionRuleSchema } from "./decision-rule-schema.ts";
import type { EntryBodies, LedgerEntry, RigIdentity } from "./ledger-entries.ts";
import { loadingSchema, specimenSchema } from "./specimen-schema.ts";

/** Error of every resource: an RFC 9457 problem document. */
export interface Problem {
  type: string;
  title: string;
  status: number;
  detail: string;
  /** Fields that were wrong, each with what was found and what is accepted. */
  fields?: { field: string; problem: string }[];
}

/** POST /api/specimens: receive a specimen. Answer 201: SpecimenView. */
export const receiveSpecimenBody = specimenSchema;

/** POST /api/specimens/:id/handle: the handle was moved. Ends the as-found state. Answer 200: SpecimenView. */
export const moveHandleBody = Type.Object(
  {
    operations: Type.Integer({ minimum: 1, maximum: 1000, description: "how many times it was operated" }),
    note: Type.String({ maxLength: 1000 }),
  },
  { additionalProperties: false },
);

/** POST /api/shots: run one test point. Answer 202: `{ shot }`; what follows arrives on GET /api/live. */
export const startShotBody = Type.Object(
  {
    specimen: Type.String({ description: "identifier of the specimen" }),
    limitSet: Type.String({ description: "identifier of the limit set" }),
    multiple: Type.Number({ exclusiveMinimum: 0, description: "multiple of the rated current" }),
    loading: loadingSchema,
    rule: Type.Optional(decisionRuleSchema),
    band: Type.Optional(
      Type.String({ description: "identifier of a band of the lab; else one with the specimen's codes" }),
    ),
    confirmedSafe: Type.Literal(true, { description: "the operator has read and confirmed the cautions" }),
  },
  { additionalProperties: false },
);
export type StartShot = Type.Static<typeof startShotBody>;

/** POST /api/rig/connect: use another rig. Answer 200: RigView. */
export const connectBody = Type.Object(
  {
    address: Type.String({
      description: "serial:PATH[?baud=N] | tcp:HOST:PORT | emulated[?breaker=NAME&speed=N&seed=N]",
    }),
  },
  { additionalProperties: false },
);

/** GET /api/shots/:id/trace?points=N */
export const traceQuery = Type.Object({
  points: Type.Optional(Type.String({ pattern: "^[1-9][0-9]{0,3}$", description: "at most 4000 points" })),
});

/** A specimen with what is known of it so far. GET /api/specimens, /api/specimens/:id. */
export interface SpecimenView {
  id: string;
  /** Sequence of the ledger's entry by which it was received. */
  entry: number;
  details: Specimen;
  receivedAt: string;
  state: OperationState;
  shots: number;
  /** Of all its shots together: one failed test is not undone by another. */
  result: Verdict["result"] | null;
  /** How often the entries shown here were amended: its receipt and the movements of its handle. */
  amendments: number;
}

/** One step of a specimen's programme. GET /api/specimens/:id/programme gives a list. */
export interface ProgrammeStep {
  point: TestPoint;
  /** Plain words: "200 % on pole 1: must trip within 120 s". */
  words: string;
  /** The newest shot at this point, if any. */
  shot: { id: string; result: Verdict["result"]; seconds: number | null; heldSeconds: number } | null;
}

/** One line of the record. GET /api/shots[?specimen=ID]: newest first. */
export interface ShotLine {
  id: string;
  specimen: string;
  label: string;
  job: string | null;
  ratedAmps: number;
  poles: number;
  multiple: number;
  loading: Loading;
  state: OperationState;
  openedAt: string;
  closedAt: string | null;
  outcome: Reading["outcome"] | null;
  result: Verdict["result"] | null;
  /** Only under a non-binary rule. */
  statement?: Verdict["statement"];
  seconds: number | null;
  heldSeconds: number | null;
  limitSeconds: number | null;
  demo: boolean;
  /** How often the entry that opened it was amended. */
  amendments: number;
}

/** One shot, whole. GET /api/shots/:id */
export interface ShotView {
  line: ShotLine;
  specimen: SpecimenView;
  opened: LedgerEntry<"shot-opened">;
  closed: LedgerEntry<"shot-closed"> | null;
  /** As in its line; those of its specimen are counted there. */
  amendments: number;
  /** In words, where each number of the page comes from. */
  provenance: { what: string; value: string; from: string }[];
}

/** Thinned trace of a shot. Times in seconds from onset; null marks missing samples. GET /api/shots/:id/trace */
export interface TraceView {
  seconds: number[];
  amps: (number | null)[];
  samples: number;
  onsetSeconds: number | null;
  openingSeconds: number | null;
}

/** State of the rig and its line. GET /api/rig, and `rig` on the live feed. */
export interface RigView {
  address: string;
  /** `absent`: not connected, see `problem`. */
  state: "absent" | "safe" | "armed" | "on" | "fault";
  problem: string | null;
  identity: RigIdentity | null;
  interlock: "closed" | "open" | null;
  button: "released" | "pressed" | null;
  ambientCelsius: number | null;
  sourceCelsius: number | null;
  /** How many times faster than the wall an emulated rig's clock runs; null for real hardware. */
  speed: number | null;
  health: { good: number; damaged: number; askedAgain: number; missing: number };
}

/** A shot under way; null when there is none. GET /api/shots/current, and `shot` on the live feed. */
export interface CurrentShot {
  id: string;
  specimen: SpecimenView;
  point: TestPoint;
  state: "checks" | "arm" | "inject" | "watch" | "end" | "settle" | "record" | "done";
  endAtSeconds: number;
  startedAt: string;
}

/** Progress of the demo lab's own shots on a first start. */
export interface SeedingView {
  done: number;
  total: number;
  doing: string;
}

/** Who and where. GET /api/lab */
export interface LabView {
  lab: string;
  station: string;
  demo: boolean;
  version: string;
  entries: number;
  head: string;
  seeding: SeedingView | null;
  cautions: string[];
  rateCaution: string;
}

/** GET /api/limits, /api/limits/:id. `confirmed`: by this lab, against its own copy. */
export interface LimitSetView {
  set: LimitSet;
  confirmed: boolean;
}

/** GET /api/rig/breakers: breakers that the emulated rig can play. */
export interface BreakerChoice {
  name: string;
  about: string;
  healthy: boolean;
}

/** GET /api/rig/links: addresses that can be tried, with words for each. */
export interface LinkChoice {
  address: string;
  words: string;
}

/**
 * Messages of GET /api/live (server-sent events; the event's name is `kind`, its data the rest as JSON). On connecting the
 * feed begins with `rig`, `shot` and `seeding` as they stand. `samples` come as they arrive, times in seconds since the
 * first sample at which current flowed, or since the first sample before that; `sentMs` is the server's clock.
 */
export type LiveMessage =
  | { kind: "rig"; rig: RigView }
  | { kind: "shot"; shot: CurrentShot | null }
  | { kind: "samples"; shot: string; seconds: number[]; amps: number[]; sentMs: number }
  | { kind: "closed"; shot: string; reading: Reading; verdict: Verdict }
  | { kind: "refused"; shot: string | null; detail: string }
  | { kind: "seeding"; seeding: SeedingView | null }
  | { kind: "ledger"; entries: number; head: string };

export type ShotOpened = EntryBodies["shot-opened"];
