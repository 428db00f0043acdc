import type { EntryBodies, EntryKind, LedgerEntry, Subject } from "../../src/contract/ledger-entries.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { outcomeWords, resultWords } from "../words/verdict-words.ts";

/** How people call what entries name by identifier: labels of specimens, by specimen and by shot. */
export type Names = ReadonlyMap<string, string>;

interface KindWords<K extends EntryKind> {
  /** The kind, as a head of a column and a choice of the filter. */
  kind: string;
  /** What happened, as a sentence without its full stop. */
  what: (body: EntryBodies[K], names: Names) => string;
}

const nameOf = (id: string, names: Names): string => names.get(id) ?? id;
const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? "" : "s"}`;
const aboutWords = ({ kind, id }: Subject, names: Names): string =>
  kind === "shot"
    ? `test ${id}${names.has(id) ? ` of ${names.get(id)}` : ""}`
    : kind === "job"
      ? `the job ${id}`
      : nameOf(id, names);

/** A kind that is not among these stands as it is written. */
const words: { readonly [K in EntryKind]?: KindWords<K> } = {
  "station-opened": {
    kind: "Ledger begun",
    what: ({ lab, station, demo }) =>
      `The ledger of ${lab} was begun as station ${station}${demo ? "; it is a demo" : ""}`,
  },
  "specimen-received": {
    kind: "Specimen received",
    what: ({ details }) =>
      `${details.label} was received: ${formatAmps(details.ratedAmps)}, ${count(details.poles, "pole")}, ${details.volts} V${details.job === undefined ? "" : `, job ${details.job}`}`,
  },
  "handle-moved": {
    kind: "Handle moved",
    what: ({ specimen, operations, note }, names) =>
      `The handle of ${nameOf(specimen, names)} was moved ${count(operations, "time")}${note === "" ? "" : `: ${note}`}`,
  },
  "shot-opened": {
    kind: "Test begun",
    what: ({ shot, specimen, row, targetAmps, loading }, names) =>
      `Test ${shot} of ${nameOf(specimen, names)}: ${formatMultiple(row.multiple)}, ${formatAmps(targetAmps)}, ${loading === "all" ? "all poles" : loading.replace("-", " ")}`,
  },
  "shot-closed": {
    kind: "Test ended",
    what: ({ shot, reading, verdict }, names) =>
      `Test ${shot}${names.has(shot) ? ` of ${names.get(shot)}` : ""} ended: it ${outcomeWords(reading)}. ${resultWords[verdict.result].word}`,
  },
  "limit-set-confirmed": {
    kind: "Limits confirmed",
    what: ({ limitSet, rows, document, edition }) =>
      `${count(rows.length, "row")} of the limit set ${limitSet} were compared with ${document}, edition ${edition}`,
  },
  "band-added": {
    kind: "Band added",
    what: ({ band }) => `The band ${band.title} was added`,
  },
  "calibration-recorded": {
    kind: "Calibration",
    what: ({ instrument, quantity, certificate, due }) =>
      `Certificate ${certificate} of ${instrument}, ${quantity}, was recorded; due ${due}`,
  },
  "policy-set": { kind: "Policy", what: () => "The lab decided its policy anew" },
  "programme-locked": {
    kind: "Programme locked",
    what: ({ specimen, programme, limitSet, amends }, names) =>
      `The programme ${programme} with the limits ${limitSet} was ${amends === null ? "locked" : "locked anew"} for ${nameOf(specimen, names)}`,
  },
  "study-recorded": {
    kind: "Study",
    what: ({ study }) => `The study ${study.study}, ${study.year}, ${study.stratum}, was recorded`,
  },
  "job-opened": { kind: "Job opened", what: ({ job, site }) => `The job ${job} was opened: ${site}` },
  "custody-moved": {
    kind: "Custody",
    what: ({ about, event, from, to }, names) =>
      `${event.charAt(0).toUpperCase()}${event.slice(1)} of ${aboutWords(about, names)}: from ${from} to ${to}`,
  },
  "photograph-added": {
    kind: "Photograph",
    what: ({ about, name, shows }, names) =>
      `The photograph ${name} of ${aboutWords(about, names)} was added; it shows: ${shows}`,
  },
  "gate-passed": {
    kind: "Gate",
    what: ({ specimen, skipped }, names) =>
      `The gate before the first current of ${nameOf(specimen, names)} was passed${skipped.length === 0 ? "" : `, with ${count(skipped.length, "thing")} skipped`}`,
  },
  "entry-amended": {
    kind: "Amendment",
    what: ({ amends, path, why, about }, names) =>
      `${path.replace(/^\/(details\/)?/, "")} of entry ${amends}${about === null ? "" : `, ${aboutWords(about, names)},`} was amended: ${why}`,
  },
  "record-reviewed": {
    kind: "Review",
    what: ({ about, finding }, names) => `The record of ${aboutWords(about, names)} was reviewed: ${finding}`,
  },
  "record-released": {
    kind: "Release",
    what: ({ about, issue }, names) =>
      `The record of ${aboutWords(about, names)} was released as issue ${issue}`,
  },
  "time-stamped": {
    kind: "Time stamp",
    what: ({ entries, time }) => `The head at entry ${entries} was time-stamped by another, at ${time}`,
  },
  "roles-given": {
    kind: "Roles given",
    what: ({ person, roles }) =>
      roles.length === 0 ? `${person} was shut out` : `${person} may act as ${roles.join(", ")}`,
  },
  "password-set": { kind: "Password set", what: ({ person }) => `A password of ${person} was set` },
  "signed-in": { kind: "Sign-in", what: ({ person }) => `${person} signed in` },
};

/** Every kind of entry, in the order in which the filter offers them. */
export const entryKinds = Object.keys(words) as readonly EntryKind[];

/** A kind of entry in plain words. A kind that this page does not know stands as it is written. */
export function kindWords(kind: EntryKind): string {
  return words[kind]?.kind ?? kind;
}

/** What an entry says happened, in a plain sentence. */
export function entryWords(entry: LedgerEntry, names: Names): string {
  const known = words[entry.kind] as KindWords<EntryKind> | undefined;
  if (known === undefined) return `An entry of the kind ${entry.kind}`;
  const sentence = known.what(entry.body, names);
  return /[.!?]$/.test(sentence) ? sentence : `${sentence}.`;
}

/** Names for what the entries speak of: labels given on receipt, and those of shots by the specimen that they were made on. */
export function namesFrom(entries: readonly LedgerEntry[], labels: Names): Names {
  const names = new Map(labels);
  const of = <K extends EntryKind>(kind: K) =>
    entries.filter((one): one is LedgerEntry<K> => one.kind === kind);
  for (const { body } of of("specimen-received"))
    if (!names.has(body.specimen)) names.set(body.specimen, body.details.label);
  for (const { body } of of("shot-opened")) names.set(body.shot, nameOf(body.specimen, names));
  return names;
}
