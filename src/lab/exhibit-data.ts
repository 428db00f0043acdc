import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import { genesisHash } from "../core/evidence/ledger-chain.ts";
import type { FullShot, SpecimenRecord, StationRecord } from "../store/records.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { stationOf } from "./open-lab.ts";
import { knownShot } from "./shot-view.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** What an exhibit or a package is made of: one specimen, or all of a job. */
export type Subject = { specimen: string } | { job: string };

/** The records of a subject, and the whole ledger's hashes, all as of one moment. */
export interface SubjectRecords {
  subject: Subject;
  station: StationRecord;
  /** In order of receipt. */
  specimens: SpecimenRecord[];
  /** Closed shots, oldest first. */
  shots: FullShot[];
  /** Shots that were still open and are therefore left out. */
  openShots: string[];
  /** Entries that speak of the subject, or on which its results rest, in order. The first of the ledger is among them. */
  entries: LedgerEntry[];
  /** Hashes of all entries of the ledger, in order. */
  ledgerHashes: string[];
  head: { sequence: number; hash: string; at: string };
}

/** Entries that every subject rests on, whoever they name. */
const ofAll: readonly string[] = ["station-opened", "policy-set", "calibration-recorded"];

const identifier = /^[0-9A-Z]{4}-[ST]\d{4,}$/;

function* textsIn(value: unknown): Generator<string> {
  if (typeof value === "string") yield value;
  else if (typeof value === "object" && value !== null)
    for (const one of Object.values(value)) yield* textsIn(one);
}

/**
 * Gathers the records of a subject.
 *
 * @throws NotFoundError for an unknown specimen, InputError naming the jobs there are for a job without specimens
 */
export function subjectRecords(lab: Pick<Lab, "store">, subject: Subject): SubjectRecords {
  const { records, ledger } = lab.store;
  const specimens =
    "specimen" in subject ? [knownSpecimen(lab, subject.specimen)] : specimensOfJob(lab, subject.job);
  const all = specimens
    .flatMap(({ specimen }) => records.shots({ specimen }))
    .sort((a, b) => a.sequence - b.sequence);
  const own = new Set([...specimens.map((one) => one.specimen), ...all.map((one) => one.shot)]);
  const jobs = new Set(specimens.flatMap((one) => one.details.job ?? []));
  const limitSets = new Set(all.map((one) => one.limitSet));
  const shots = all.filter((one) => one.closedSequence !== null).map((one) => knownShot(lab, one.shot));
  const bands = new Set(shots.flatMap(({ opened }) => opened.body.choice?.band.id ?? []));
  const entries: LedgerEntry[] = [];
  const stamps: LedgerEntry<"time-stamped">[] = [];
  const sequences = new Set<number>();
  const signIns = new Map<number, LedgerEntry>();
  let lastOwn = 0;
  const ledgerHashes: string[] = [];
  let newest: LedgerEntry | null = null;
  for (const entry of ledger.entries()) {
    newest = entry;
    ledgerHashes.push(entry.hash);
    const texts = [...textsIn(entry.body)];
    const speaksOfOwn = texts.some((text) => own.has(text));
    const speaksOfOthers = texts.some((text) => identifier.test(text) && !own.has(text));
    const speaksOfJob = !speaksOfOthers && texts.some((text) => jobs.has(text));
    const confirms = entry.kind === "limit-set-confirmed" && texts.some((text) => limitSets.has(text));
    const band = entry.kind === "band-added" && bands.has((entry.body as EntryBodies["band-added"]).band.id);
    const amends = entry.kind === "entry-amended" && sequences.has((entry.body as { amends: number }).amends);
    if (entry.kind === "signed-in") signIns.set(entry.sequence, entry);
    else if (entry.kind === "time-stamped") stamps.push(entry as LedgerEntry<"time-stamped">);
    else if (ofAll.includes(entry.kind) || speaksOfOwn || speaksOfJob || confirms || band || amends) {
      entries.push(entry);
      sequences.add(entry.sequence);
      lastOwn = entry.sequence;
      // The sign-in that an entry names belongs to it, whoever else signed in.
      const signIn = signIns.get(entry.signIn ?? 0);
      if (signIn !== undefined && !sequences.has(signIn.sequence)) {
        entries.push(signIn);
        sequences.add(signIn.sequence);
      }
    }
  }
  // One stamp over all of them says as much as many; where there is none yet, the newest covers the most.
  const stamp = stamps.find(({ body }) => body.entries >= lastOwn) ?? stamps.at(-1);
  if (stamp !== undefined) entries.push(stamp);
  return {
    subject,
    station: stationOf(lab),
    specimens,
    shots,
    openShots: all.filter((one) => one.closedSequence === null).map((one) => one.shot),
    entries: entries.sort((a, b) => a.sequence - b.sequence),
    ledgerHashes,
    head: {
      sequence: newest?.sequence ?? 0,
      hash: newest?.hash ?? genesisHash,
      at: newest?.at ?? stationOf(lab).openedAt,
    },
  };
}

function specimensOfJob(lab: Pick<Lab, "store">, job: string): SpecimenRecord[] {
  const all = lab.store.records.specimens();
  const found = all.filter((one) => one.details.job === job);
  if (found.length > 0) return found;
  const jobs = [...new Set(all.flatMap((one) => one.details.job ?? []))];
  throw new InputError(
    `there is no specimen of job "${job}"; jobs with specimens: ${jobs.length === 0 ? "none" : jobs.map((one) => `"${one}"`).join(", ")}`,
  );
}
