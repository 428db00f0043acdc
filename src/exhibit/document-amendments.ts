import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import type { IssueView } from "../contract/review-schema.ts";
import type { ExhibitData, HandlingData } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { momentWords } from "./document-words.ts";

/** Where the release of a specimen's record stands, in words, and whether it was amended after it. */
export interface ReleaseStanding {
  specimen: string;
  label: string;
  state: "in force" | "amended after release" | "not released";
  words: string;
}

const amendmentsIn = (entries: readonly LedgerEntry[]): LedgerEntry<"entry-amended">[] =>
  entries.filter((one) => one.kind === "entry-amended") as LedgerEntry<"entry-amended">[];

/** Where the release of each specimen's record stands, and which exhibits this one replaces. */
export function releaseStandings(data: ExhibitData): ReleaseStanding[] {
  return data.handling.map(({ specimen, review }) => {
    const label = data.specimens.find((one) => one.specimen === specimen)?.details.label ?? specimen;
    const issue = review.issues.at(-1);
    return { specimen, label, ...standingOf(data, label, issue, review) };
  });
}

function standingOf(
  data: ExhibitData,
  label: string,
  issue: IssueView | undefined,
  review: HandlingData["review"],
): Pick<ReleaseStanding, "state" | "words"> {
  if (issue === undefined)
    return { state: "not released", words: `The record of ${label} is not released: this is a draft.` };
  const named = `issue ${issue.issue} of the record of ${label}, released by ${issue.by} (entry ${issue.sequence}) after review by ${issue.review.by} (entry ${issue.review.sequence})`;
  const since = new Set(review.since);
  const amendments = amendmentsIn(data.entries).filter((one) => since.has(one.sequence));
  const [first] = amendments;
  if (first !== undefined)
    return {
      state: "amended after release",
      words: `AMENDED AFTER RELEASE: ${named}, was amended by ${amendments.length === 1 ? "entry" : "entries"} ${amendments.map((one) => one.sequence).join(", ")}. This exhibit shows the record as amended, which is not released again yet. It replaces every exhibit of it whose footer names an entry below ${first.sequence}.`,
    };
  return {
    state: "in force",
    words: `Built on ${named}.${issue.issue === 1 ? "" : ` It replaces every exhibit of it whose footer names an entry below ${issue.sequence}.`}`,
  };
}

/** At the head of the exhibit: what was amended after release, and which exhibits this one replaces. */
export function releaseBlocks(data: ExhibitData): Block[] {
  const standings = releaseStandings(data);
  const weighty = standings.filter(({ state }) => state === "amended after release");
  const replacing = standings.filter(
    ({ state, words }) => state === "in force" && words.includes("replaces"),
  );
  return [...weighty, ...replacing].map(({ words, state }) => ({
    kind: "paragraph",
    weight: state === "in force" ? "plain" : "strong",
    text: words,
  }));
}

/** Amendments with the old value, who, when and why; then reviews and releases. */
export function amendmentBlocks(data: ExhibitData): Block[] {
  const amendments = amendmentsIn(data.entries);
  return [
    { kind: "heading", level: 1, text: "Amendments and release" },
    amendments.length === 0
      ? { kind: "paragraph", text: "No entry on which this exhibit rests was amended." }
      : {
          kind: "table",
          title: "Amendments; the newest value is shown in this exhibit",
          header: ["Entry", "Amends", "Field", "Was", "Is", "Why, by whom, when"],
          rows: amendments.map(({ sequence, at, actor, body }) => [
            String(sequence),
            `entry ${body.amends}, ${body.kind}`,
            body.path,
            valueWords(body, "before"),
            valueWords(body, "after"),
            `${body.why}; ${actor}, ${momentWords(at)}`,
          ]),
          widths: [0.07, 0.17, 0.17, 0.17, 0.17, 0.25],
        },
    { kind: "list", items: releaseStandings(data).map(({ words }) => words) },
    ...reviewBlocks(data),
  ];
}

function reviewBlocks(data: ExhibitData): Block[] {
  const rows = data.entries.flatMap(({ kind, sequence, at, actor, body }) => {
    if (kind === "record-reviewed") {
      const { about, through, finding, note } = body as EntryBodies["record-reviewed"];
      return [
        [
          String(sequence),
          `${about.kind} ${about.id}`,
          `${finding}, as it stood at entry ${through}`,
          note,
          actor,
          momentWords(at),
        ],
      ];
    }
    if (kind === "record-released") {
      const { about, issue, note } = body as EntryBodies["record-released"];
      return [
        [
          String(sequence),
          `${about.kind} ${about.id}`,
          `released as issue ${issue}`,
          note,
          actor,
          momentWords(at),
        ],
      ];
    }
    return [];
  });
  return rows.length === 0
    ? []
    : [
        {
          kind: "table",
          title: "Reviews and releases",
          header: ["Entry", "Record", "What", "Note", "By", "When"],
          rows,
          widths: [0.07, 0.19, 0.25, 0.21, 0.13, 0.15],
        },
      ];
}

function valueWords(body: EntryBodies["entry-amended"], side: "before" | "after"): string {
  if (!Object.hasOwn(body, side)) return "not there";
  const value = body[side];
  return typeof value === "string" ? value : JSON.stringify(value);
}

/** The amendments as a table; values as JSON. */
export function amendmentRows(data: ExhibitData): DataTable {
  return {
    name: "amendments",
    title: "Amendments",
    header: ["entry", "at_utc", "by", "amends_entry", "kind", "field", "was_json", "is_json", "why"],
    rows: amendmentsIn(data.entries).map(({ sequence, at, actor, body }) => [
      ...[sequence, at, actor, body.amends, body.kind, body.path],
      ...[JSON.stringify(body.before) ?? null, JSON.stringify(body.after) ?? null, body.why],
    ]),
  };
}
