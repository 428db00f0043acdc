import { releaseStandings } from "./document-amendments.ts";
import { type ExhibitData, shotsOf } from "./document-data.ts";
import type { Block } from "./document-model.ts";
import { momentWords } from "./document-words.ts";

/** A field that a report must have, and what this one has: null where it is missing. */
export interface ReportField {
  /** Letter of ISO/IEC 17025:2017, 7.8.2.1. */
  letter: string;
  field: string;
  found: string | null;
}

/**
 * The fields that ISO/IEC 17025:2017, clause 7.8.2.1 a) to p) asks of a report, in our own words, each with where it is found or
 * with null where the record does not hold it.
 *
 * Source: read in two public mirrors of the clause's text, not in the paid document.
 */
export function reportFields(data: ExhibitData, title: string): ReportField[] {
  const days = shotsOf(data).map((shot) => shot.openedAt.slice(0, data.published ? 4 : 10));
  const first = days[0];
  const last = days.at(-1);
  const jobs = [...new Set(data.specimens.flatMap((one) => one.details.job ?? []))];
  const received = data.specimens.filter((one) => one.details.receivedOn !== undefined).length;
  const selections = [...new Set(data.specimens.flatMap((one) => one.details.selection ?? []))];
  const allEmulated = shotsOf(data).every(({ opened }) => opened.rig.emulated);
  return [
    { letter: "a", field: "Title", found: title },
    { letter: "b", field: "Name and address of the laboratory", found: null },
    { letter: "c", field: "Where the tests were made", found: null },
    {
      letter: "d",
      field: "Identification on every page, and a clear end",
      found: `head ${data.head.hash.slice(0, 16)}… and page numbers on every page; "End of exhibit"`,
    },
    { letter: "e", field: "Name and contact of the customer", found: null },
    { letter: "f", field: "Method", found: "section Method; limit rows under Limits" },
    { letter: "g", field: "Description, identity and condition of the items", found: "section Specimens" },
    {
      letter: "h",
      field: "Date of receipt of the items",
      found: received === data.specimens.length ? "section Specimens" : null,
    },
    {
      letter: "i",
      field: "Dates of the tests",
      found:
        first === undefined || last === undefined ? null : first === last ? first : `${first} to ${last}`,
    },
    {
      letter: "j",
      field: "Date of issue",
      found: `${momentWords(data.head.at)}, the newest entry of the ledger`,
    },
    {
      letter: "k",
      field: "Sampling plan, where it matters",
      found:
        selections.length === 0
          ? null
          : `chosen: ${selections.join("; ")}${jobs.length > 0 ? ` (${jobs.join("; ")})` : ""}`,
    },
    { letter: "l", field: "That results relate only to the items tested", found: "on every page" },
    { letter: "m", field: "Results with units", found: "section Results" },
    { letter: "n", field: "Additions, deviations, exclusions", found: "section Deviations and exclusions" },
    { letter: "o", field: "Who authorised the report", found: authorised(data) },
    {
      letter: "p",
      field: "What came from outside providers",
      found: allEmulated ? null : "nothing of the results; limit values as told under Limits",
    },
  ];
}

/** Who released the records, where all of them are released and in force. */
function authorised(data: ExhibitData): string | null {
  const standings = releaseStandings(data);
  return standings.length > 0 && standings.every(({ state }) => state === "in force")
    ? standings.map(({ words }) => words).join(" ")
    : null;
}

const missing = "MISSING: not in the record";

/** The list with what is missing named, and what follows from the name of the lab alone. */
export function reportFieldBlocks(data: ExhibitData, title: string): Block[] {
  const fields = reportFields(data, title);
  const lacking = fields.filter((one) => one.found === null).length;
  return [
    { kind: "heading", level: 1, text: "Fields of a report (ISO/IEC 17025:2017, 7.8.2.1)" },
    {
      kind: "paragraph",
      ...(lacking > 0 ? { weight: "strong" as const } : {}),
      text:
        lacking === 0
          ? "All fields are there."
          : `${lacking} of ${fields.length} fields are missing and must be added before this is released as a report.`,
    },
    {
      kind: "table",
      title: "What the clause asks for, in our own words",
      header: ["", "Field", "Here"],
      rows: fields.map((one) => [
        one.letter,
        one.field,
        one.letter === "b" && one.found === null ? `${data.lab}; MISSING: address` : (one.found ?? missing),
      ]),
      widths: [0.05, 0.4, 0.55],
    },
    { kind: "paragraph", text: "Not to be reproduced except in full.", weight: "small" },
  ];
}
