import type { Static } from "typebox";
import type { AmendedEntry, amendmentInput } from "../../src/contract/amendment-schema.ts";
import type { BandView } from "../../src/contract/band-schema.ts";
import type { CalibrationInput } from "../../src/contract/calibration-schema.ts";
import type { ConfirmedLimitSetView, ConfirmLimitSet } from "../../src/contract/confirmation.ts";
import type { CustodyLine, custodyInput } from "../../src/contract/custody-schema.ts";
import type { GateView, gateInput } from "../../src/contract/gate-schema.ts";
import type { RigView, ShotView, SpecimenView, StartShot, TraceView } from "../../src/contract/http.ts";
import type { ReceivedSpecimen } from "../../src/contract/import-schema.ts";
import type { JobView, jobInput } from "../../src/contract/job-schema.ts";
import type { LabPolicy, Subject } from "../../src/contract/ledger-entries.ts";
import type { LedgerCheck, StampView } from "../../src/contract/ledger-views.ts";
import type { GiveRoles, PersonView } from "../../src/contract/people-schema.ts";
import type { SharesView } from "../../src/contract/plans.ts";
import type { LockProgramme, PlanView } from "../../src/contract/programme.ts";
import type { ReviewView, releaseInput, reviewInput } from "../../src/contract/review-schema.ts";
import type { StudyView } from "../../src/contract/studies.ts";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import { request } from "./request.ts";

const segment = encodeURIComponent;

/** Names and values as a query; what is null or empty is left out. */
export function query(values: Readonly<Record<string, string | null>>): string {
  const given = Object.entries(values).filter(
    (one): one is [string, string] => one[1] !== null && one[1] !== "",
  );
  return new URLSearchParams(given).toString();
}

/** Addresses of what can be read. */
export const addresses = {
  lab: "/api/lab",
  specimens: "/api/specimens",
  specimen: (id: string) => `/api/specimens/${segment(id)}`,
  /** Without a limit set, the server chooses the one that suits the specimen. */
  programme: (specimen: string, limitSet: string | null) =>
    `/api/specimens/${segment(specimen)}/programme${limitSet === null ? "" : `?limitSet=${segment(limitSet)}`}`,
  shots: "/api/shots",
  shotsOf: (specimen: string) => `/api/shots?specimen=${segment(specimen)}`,
  shot: (id: string) => `/api/shots/${segment(id)}`,
  trace: (id: string, points: number) => `/api/shots/${segment(id)}/trace?points=${points}`,
  limitSets: "/api/limits",
  limitSet: (id: string) => `/api/limits/${segment(id)}`,
  programmes: "/api/programmes",
  next: "/api/next",
  plan: (specimen: string) => `/api/specimens/${segment(specimen)}/plan`,
  matrix: (specimen: string) => `/api/specimens/${segment(specimen)}/matrix`,
  fit: (specimen: string) => `/api/specimens/${segment(specimen)}/fit`,
  timeCurrentFigure: (specimen: string, limitSet: string | null, axis: "multiple" | "amps") =>
    `/api/figures/time-current.svg?${query({ specimen, limitSet, axis })}`,
  rates: (question: string) => `/api/rates?${question}`,
  ratesCsv: (question: string) => `/api/rates.csv?${question}`,
  ratesExhibit: (question: string) => `/api/exhibit-rates.pdf?${question}`,
  rateSpecimens: (question: string) => `/api/rates/specimens?${question}`,
  tripTimes: (question: string) => `/api/trip-times?${question}`,
  ratesFigure: (picture: "rates" | "trip-times" | "margins", question: string) =>
    `/api/${picture}.svg?${question}`,
  poolFigure: (picture: "forest" | "funnel", question: string) => `/api/pool/${picture}.svg?${question}`,
  studies: "/api/studies",
  pool: (question: string) => `/api/pool?${question}`,
  poolCompare: (question: string) => `/api/pool/compare?${question}`,
  planKinds: "/api/plan",
  planned: (kind: string, inputs: string) => `/api/plan/${segment(kind)}?${inputs}`,
  place: (question: string) => `/api/place?${question}`,
  panel: (question: string) => `/api/panel?${question}`,
  bands: "/api/bands",
  calibrations: "/api/calibrations",
  policy: "/api/policy",
  people: "/api/people",
  ledger: (since: number) => `/api/ledger?since=${since}`,
  /** Two entries: the one before, to which it is bound, and itself. */
  ledgerEntry: (sequence: number) => `/api/ledger?since=${Math.max(0, sequence - 2)}&limit=2`,
  timeStamps: "/api/timestamps",
  timeStampRequest: "/api/timestamp-request.tsq",
  verify: (head: string) => `/api/verify?${query({ head })}`,
  exhibit: (choices: Readonly<Record<string, string | null>>) => `/api/exhibit.pdf?${query(choices)}`,
  letter: (choices: Readonly<Record<string, string | null>>) => `/api/letter.pdf?${query(choices)}`,
  labels: (choices: Readonly<Record<string, string | null>>) => `/api/labels.pdf?${query(choices)}`,
  package: (choices: Readonly<Record<string, string | null>>) => `/api/package.zip?${query(choices)}`,
  jobs: "/api/jobs",
  job: (name: string) => `/api/jobs/${segment(name)}`,
  custody: ({ kind, id }: Subject) => `/api/${kind}s/${segment(id)}/custody`,
  review: ({ kind, id }: Subject) => `/api/${kind}s/${segment(id)}/review`,
  gate: (specimen: string) => `/api/specimens/${segment(specimen)}/gate`,
  photographs: ({ kind, id }: Subject) => `/api/photographs?${query({ kind, id })}`,
  photograph: (hash: string) => `/api/photographs/${segment(hash)}`,
  photographPublished: (hash: string) => `/api/photographs/${segment(hash)}/published`,
  amendment: (entry: number) => `/api/amendments/${entry}`,
  amendments: (about: string) => `/api/amendments?${query({ about })}`,
  links: "/api/rig/links",
  breakers: "/api/rig/breakers",
} as const;

export const getShot = (id: string) => request<ShotView>("GET", addresses.shot(id));
export const getTrace = (id: string, points: number) =>
  request<TraceView>("GET", addresses.trace(id, points));

export const receiveSpecimen = (details: Specimen) =>
  request<SpecimenView>("POST", addresses.specimens, details);
export const moveHandle = (specimen: string, operations: number, note: string) =>
  request<SpecimenView>("POST", `${addresses.specimen(specimen)}/handle`, { operations, note });
export const lockProgramme = (specimen: string, lock: LockProgramme) =>
  request<PlanView>("POST", `${addresses.specimen(specimen)}/programme`, lock);
export const confirmLimitSet = (limitSet: string, confirmation: ConfirmLimitSet) =>
  request<ConfirmedLimitSetView>("POST", `${addresses.limitSet(limitSet)}/confirmations`, confirmation);
export const giveRoles = (input: GiveRoles) => request<PersonView>("POST", addresses.people, input);
export const addBand = (band: unknown) => request<BandView>("POST", addresses.bands, band);
export const addCalibration = (record: CalibrationInput) =>
  request<CalibrationInput>("POST", addresses.calibrations, record);
export const importStudies = (csv: string, name: string) =>
  request<StudyView[]>("POST", addresses.studies, { csv, ...(name === "" ? {} : { name }) });
export const countShares = (csv: string) => request<SharesView>("POST", "/api/shares", { csv });
export const setPolicy = (policy: LabPolicy) => request<LabPolicy>("PUT", addresses.policy, policy);
export const checkLedger = (knownHead: string) => request<LedgerCheck>("GET", addresses.verify(knownHead));
export const keepTimeStamp = (response: string) =>
  request<StampView>("POST", addresses.timeStamps, { response });
export const openJob = (job: Static<typeof jobInput>) => request<JobView>("POST", addresses.jobs, job);
export const importSpecimens = (csv: string, name: string) =>
  request<ReceivedSpecimen[]>("POST", `${addresses.specimens}/import`, {
    csv,
    ...(name === "" ? {} : { name }),
  });
export const addCustody = (event: Static<typeof custodyInput>) =>
  request<CustodyLine>("POST", "/api/custody", event);
export const passGate = (specimen: string, passage: Static<typeof gateInput>) =>
  request<GateView>("POST", addresses.gate(specimen), passage);
export const amendEntry = (amendment: Static<typeof amendmentInput>) =>
  request<AmendedEntry>("POST", "/api/amendments", amendment);
export const reviewRecord = (review: Static<typeof reviewInput>) =>
  request<ReviewView>("POST", "/api/reviews", review);
export const releaseRecord = (release: Static<typeof releaseInput>) =>
  request<ReviewView>("POST", "/api/releases", release);
export const startShot = (shot: StartShot) => request<{ shot: string }>("POST", addresses.shots, shot);
export const connectRig = (address: string) => request<RigView>("POST", "/api/rig/connect", { address });
export const clearFault = () => request<RigView>("POST", "/api/rig/clear");
/** Current off and disarm, in any state. */
export const stopCurrent = () => request<unknown>("POST", "/api/stop");
