import type { GateItem } from "../contract/ledger-entries.ts";
import { signatureWords } from "../contract/signature-words.ts";
import { remarkLetter } from "./_remark-letter.ts";
import type { ExhibitData, HandlingData } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { momentWords } from "./document-words.ts";

const notRecorded = "not recorded";

/** Where they were removed, who had them when, what was photographed, and what was in place before the first current. */
export function custodyBlocks(data: ExhibitData): Block[] {
  return [
    { kind: "heading", level: 1, text: "Custody and handling" },
    {
      kind: "paragraph",
      text: "What the ledger holds of removal, receipt and handling, as newest amended. What is not listed was not recorded here; it may be recorded elsewhere.",
    },
    ...data.jobs.map(({ sequence, details }): Block => {
      const rows: [string, string | null][] = [
        ["Job", `${details.job}, entry ${sequence}`],
        ["Site", details.site],
        ["Day of removal", details.on],
        ["Client's reference", details.clientReference],
        ["Removed by", details.removedBy],
        ["Authority", details.authority],
        ["Circumstances", details.circumstances],
        ["Panels", details.panels.join(", ")],
      ];
      return {
        kind: "facts",
        title: "Removal",
        rows: rows.map(([name, value]) => [name, value || notRecorded]),
      };
    }),
    ...data.handling.flatMap((one) => chainBlocks(data, one)),
    ...photographBlocks(data),
    ...data.handling.flatMap((one) => gateBlocks(data, one)),
  ];
}

const labelOf = (data: ExhibitData, specimen: string): string =>
  data.specimens.find((one) => one.specimen === specimen)?.details.label ?? specimen;

function chainBlocks(data: ExhibitData, { specimen, custody }: HandlingData): Block[] {
  const label = labelOf(data, specimen);
  const remarks = custody.remarks.map(({ words }) => words);
  if (custody.lines.length === 0)
    return [
      {
        kind: "paragraph",
        text: `Chain of custody of ${label}: ${remarks.join(" ")} There is no event to draw as a timeline.`,
      },
    ];
  const figures = data.figures.custody.get(specimen) ?? [];
  return [
    ...figures.map((figure): Block => ({ kind: "figure", figure })),
    {
      kind: "table",
      title: `Chain of custody of ${label}, in the order of what was observed`,
      header: ["No.", "Observed", "Event", "From", "To", "Seals, condition", "Entered"],
      rows: custody.lines.map(({ event, sequence, enteredAt, by, amendments, ...more }, i) => [
        String(i + 1),
        event.observedUntil === null
          ? momentWords(event.observedAt)
          : `${momentWords(event.observedAt)} until ${momentWords(event.observedUntil)}`,
        `${event.event}${event.about.kind === "job" ? " (all of the job)" : ""}`,
        event.from,
        event.to,
        [
          ...event.seals.map(({ number, condition }) => `seal ${number} ${condition}`),
          event.condition,
          event.note,
        ]
          .filter((text) => text !== "")
          .join("; "),
        `${momentWords(enteredAt)} by ${by} (${signatureWords(more)}), entry ${sequence}${amendments === 0 ? "" : `, amended ${amendments}×`}`,
      ]),
      widths: [0.05, 0.15, 0.11, 0.14, 0.14, 0.22, 0.19],
    },
    remarks.length === 0
      ? { kind: "paragraph", text: `No gap and no overlap was found in the chain of ${label}.` }
      : {
          kind: "list",
          items: remarks.map((words, i) => `Pointed out: ${words} (${remarkLetter(i)} in the timeline)`),
        },
  ];
}

function photographBlocks(data: ExhibitData): Block[] {
  const rows = photographRows(data).rows;
  if (rows.length === 0) return [{ kind: "paragraph", text: "No photograph is on record." }];
  return [
    {
      kind: "table",
      title: "Photographs on record; the files are in the package, named by their hash",
      header: ["Entry", "Of", "Shows", "File, size, taken", "SHA-256 of the file"],
      rows: rows.map(([entry, of, shows, name, width, height, , takenAt, hash]) => [
        String(entry),
        String(of),
        String(shows),
        `${name}, ${width} × ${height}, ${takenAt === null ? "time not told" : momentWords(String(takenAt))}`,
        String(hash),
      ]),
      widths: [0.07, 0.12, 0.12, 0.25, 0.44],
      mono: [4],
    },
  ];
}

const itemWords: Readonly<Record<GateItem, string>> = {
  photographs: "photographs as received",
  checks: "checks that alter nothing",
  programmeLocked: "programme, limit set and rule locked",
  parties: "parties notified",
  authority: "authority to proceed",
};

function gateBlocks(data: ExhibitData, { specimen, gate }: HandlingData): Block[] {
  const lines = gate.lines.filter(({ state, demand }) => state !== "not needed" || demand === "demanded");
  if (lines.length === 0) return [];
  const present = [...new Set(gate.passages.flatMap(({ passage }) => passage.present))];
  return [
    {
      kind: "table",
      title: `Before the first current of ${labelOf(data, specimen)}`,
      header: ["What", "The lab demands it", "State", "By what, or why it was skipped"],
      rows: lines.map(({ item, demand, state, words }) => [
        itemWords[item],
        demand === "demanded" ? "yes" : "no",
        state,
        words,
      ]),
      widths: [0.26, 0.14, 0.12, 0.48],
    },
    {
      kind: "paragraph",
      text: `Passed by: ${gate.passages.map(({ by, at, sequence }) => `${by}, ${momentWords(at)}, entry ${sequence}`).join("; ") || "nobody"}. Present: ${present.join(", ") || notRecorded}.`,
    },
  ];
}

/** The chains of custody, one row for each event. */
export function chainRows(data: ExhibitData): DataTable {
  return {
    name: "custody-chain",
    title: "Chain of custody",
    header: [
      ...["entry", "specimen", "label", "observed_at_utc", "observed_until_utc", "event", "from", "to"],
      ...[
        "seals",
        "condition",
        "note",
        "entered_at_utc",
        "entered_by",
        "signed_in_by_entry",
        "seconds_until_entered",
        "amendments",
      ],
    ],
    rows: data.handling.flatMap(({ specimen, custody }) =>
      custody.lines.map(({ sequence, event, enteredAt, by, signIn, lateSeconds, amendments }) => [
        ...[sequence, specimen, labelOf(data, specimen), event.observedAt, event.observedUntil],
        ...[event.event, event.from, event.to],
        event.seals.map(({ number, condition }) => `${number} ${condition}`).join("; "),
        ...[
          event.condition,
          event.note,
          enteredAt,
          by,
          signIn ?? null,
          data.published ? null : lateSeconds,
          amendments,
        ],
      ]),
    ),
  };
}

/** The photographs of the specimens and of their jobs. */
export function photographRows(data: ExhibitData): DataTable {
  const all = [
    ...data.jobs.flatMap(({ details, photographs }) =>
      photographs.map((one) => ({ of: `job ${details.job}`, one })),
    ),
    ...data.handling.flatMap(({ specimen, photographs }) =>
      photographs.map((one) => ({ of: labelOf(data, specimen), one })),
    ),
  ].sort((a, b) => a.one.sequence - b.one.sequence);
  return {
    name: "photographs",
    title: "Photographs",
    header: ["entry", "of", "shows", "file", "width", "height", "bytes", "taken_at_utc", "sha256", "note"],
    rows: all.map(({ of, one: { sequence, record } }) => [
      ...[sequence, of, record.shows, record.name, record.width, record.height, record.bytes],
      ...[record.takenAt, record.photograph, record.note],
    ]),
  };
}
