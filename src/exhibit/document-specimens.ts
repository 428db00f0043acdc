import type { LedgerEntry } from "../contract/ledger-entries.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { amendmentBlocks } from "./document-amendments.ts";
import { custodyBlocks } from "./document-custody.ts";
import type { ExhibitData, SpecimenData } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { momentWords } from "./document-words.ts";

const notKnown = "not recorded";

/** Identity and custody facts as far as they are in the record; what is not recorded is said to be so. */
export function specimenBlocks(data: ExhibitData): Block[] {
  return [
    { kind: "heading", level: 1, text: data.specimens.length === 1 ? "Specimen" : "Specimens" },
    ...data.specimens.flatMap((one) => [
      {
        kind: "facts" as const,
        title: `${one.details.label} (${one.specimen})`,
        rows: factsOf(one),
      },
    ]),
    ...custodyBlocks(data),
    custodyTable(data),
    ...amendmentBlocks(data),
  ];
}

function factsOf({
  details,
  specimen,
  receivedAt,
  receivedSequence,
  operations,
}: SpecimenData): [string, string][] {
  const rows: [string, string | undefined][] = [
    ["Identifier", `${specimen}, entry ${receivedSequence}`],
    [
      "Rating",
      `${formatAmps(details.ratedAmps)}, ${details.poles} ${details.poles === 1 ? "pole" : "poles"}, ${details.volts} V`,
    ],
    ["Frame", details.frameAmps === undefined ? undefined : formatAmps(details.frameAmps)],
    [
      "Trip type",
      [details.tripType, details.typeLetter && `type ${details.typeLetter}`].filter(Boolean).join(", "),
    ],
    ["Maker and type (codes)", [details.makeCode, details.typeCode].filter(Boolean).join(", ")],
    ["Date code, year made", [details.dateCode, details.madeYear].filter(Boolean).join(", ")],
    ["Job, panel, circuit", [details.job, details.panel, details.circuit].filter(Boolean).join(" / ")],
    ["Received", details.receivedOn ?? `entered ${momentWords(receivedAt)}; day of receipt not recorded`],
    ["Condition as received", details.condition],
    ["Handle as received", details.handleAsReceived],
    ["Operations before receipt", details.operationsSinceRemoval?.toString()],
    ["Operations since receipt", String(operations)],
    ["How it was chosen", details.selection],
    ["Notes", details.notes],
  ];
  return rows.map(([name, value]) => [name, value || notKnown]);
}

/** The recorded steps of every specimen, in order; the CSV holds the same. */
export function custodyRows(data: Pick<ExhibitData, "entries" | "specimens">): DataTable {
  const labels = new Map(data.specimens.map((one) => [one.specimen, one.details.label]));
  const amended = new Map<number, number>();
  for (const { kind, sequence, body } of data.entries)
    if (kind === "entry-amended") amended.set((body as { amends: number }).amends, sequence);
  const rows = data.entries.flatMap((entry) => {
    const step = stepWords(entry);
    if (step === null) return [];
    const { specimen, about } = entry.body as { specimen?: string; about?: { id: string } | null };
    const id = specimen ?? about?.id ?? "";
    const by = amended.get(entry.sequence);
    const words = by === undefined ? step : `${step} (as first entered; amended by entry ${by})`;
    return [[entry.sequence, entry.at, labels.get(id) ?? id, words, entry.actor]];
  });
  return {
    name: "custody",
    title: "Recorded steps",
    header: ["entry", "entered_at_utc", "specimen", "step", "by"],
    rows,
  };
}

function custodyTable(data: ExhibitData): Block {
  const table = custodyRows(data);
  return {
    kind: "table",
    title: table.title,
    header: ["Entry", "Entered", "Specimen", "Step", "By"],
    rows: table.rows.map(([sequence, at, specimen, step, by]) => [
      String(sequence),
      momentWords(String(at)),
      String(specimen),
      String(step),
      String(by),
    ]),
    widths: [0.08, 0.2, 0.16, 0.42, 0.14],
  };
}

/** What an entry says of the handling of a specimen, or null where it says nothing of it. */
function stepWords(entry: LedgerEntry): string | null {
  // Kinds that this program does not know are shown by their name rather than left out.
  const { kind, body } = entry as { kind: string; body: Readonly<Record<string, unknown>> };
  switch (kind) {
    case "specimen-received": {
      const details = body.details as Specimen;
      return `received${details.receivedOn === undefined ? "" : ` on ${details.receivedOn}`}`;
    }
    case "handle-moved":
      return `handle moved ${String(body.operations)}×: ${String(body.note) || "no note"}`;
    case "shot-opened":
      return `test ${String(body.shot)} begun`;
    case "shot-closed":
    case "station-opened":
    case "policy-set":
    case "calibration-recorded":
    case "limit-set-confirmed":
    case "band-added":
    case "time-stamped":
    case "signed-in":
    case "entry-amended":
    case "record-reviewed":
    case "record-released":
      return null;
    case "custody-moved":
      return `custody: ${String(body.event)}, from ${String(body.from)} to ${String(body.to)}`;
    case "photograph-added":
      return `photograph added: ${String(body.shows)}`;
    default:
      return kind.replaceAll("-", " ");
  }
}
