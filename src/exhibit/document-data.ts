import type { CustodyChain } from "../contract/custody-schema.ts";
import type { GateView } from "../contract/gate-schema.ts";
import type { EntryBodies, JobDetails, LedgerEntry } from "../contract/ledger-entries.ts";
import type { PhotographView } from "../contract/photograph-schema.ts";
import type { ReviewView } from "../contract/review-schema.ts";
import type { LimitSet } from "../core/limits/limit-set.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import type { Figure } from "./document-model.ts";

/** What an exhibit is to a court. Each exhibit is of one class. */
export type ExhibitClass = "original" | "duplicate" | "summary" | "illustrative";

/** A closed shot with the hashes of the entries that it comes from. */
export interface ShotData {
  shot: string;
  openedAt: string;
  closedAt: string;
  opened: EntryBodies["shot-opened"];
  closed: EntryBodies["shot-closed"];
  openedSequence: number;
  closedSequence: number;
  closedHash: string;
}

/** A specimen with its shots, oldest first. */
export interface SpecimenData {
  specimen: string;
  receivedAt: string;
  receivedSequence: number;
  details: Specimen;
  operations: number;
  shots: readonly ShotData[];
}

/** A limit set that verdicts were made by. `held` is null where the set is no longer as it was used. */
export interface LimitSetData {
  id: string;
  hash: string;
  held: LimitSet | null;
}

/** How a specimen was handled: its chain of custody, photographs of it, the gate before its first current, its reviews. */
export interface HandlingData {
  specimen: string;
  custody: CustodyChain;
  photographs: readonly PhotographView[];
  gate: GateView;
  review: ReviewView;
}

/** A job of the exhibit, where it was opened in the ledger. */
export interface JobData {
  sequence: number;
  details: JobDetails;
  photographs: readonly PhotographView[];
}

/** Everything that an exhibit says, gathered; making the document from it reads nothing else. */
export interface ExhibitData {
  subject: { specimen: string } | { job: string };
  class: ExhibitClass;
  label: string | null;
  caseText: string | null;
  bates: string | null;
  lab: string;
  station: string;
  publicKey: string;
  demo: boolean;
  version: string;
  /** True where names, streets, serial numbers and dates were left out or replaced. */
  published: boolean;
  head: { sequence: number; hash: string; at: string };
  specimens: readonly SpecimenData[];
  /** One for each specimen, in their order. */
  handling: readonly HandlingData[];
  jobs: readonly JobData[];
  entries: readonly LedgerEntry[];
  openShots: readonly string[];
  limitSets: readonly LimitSetData[];
  cautions: readonly string[];
  rateCaution: string;
  /** `custody`: the sheets of each specimen's timeline; `shots`: by shot. */
  figures: {
    timeCurrent: readonly Figure[];
    custody: ReadonlyMap<string, readonly Figure[]>;
    shots: ReadonlyMap<string, Figure>;
  };
}

/** All shots of an exhibit, oldest first. */
export function shotsOf(data: Pick<ExhibitData, "specimens">): ShotData[] {
  return data.specimens.flatMap((one) => one.shots).sort((a, b) => a.openedSequence - b.openedSequence);
}
