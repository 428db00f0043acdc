import type { EntryBodies } from "../contract/ledger-entries.ts";
import { type ExhibitData, shotsOf } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { momentWords } from "./document-words.ts";

/** Where each number comes from: entries with their hashes, the head, the key, the program. */
export function provenanceBlocks(data: ExhibitData): Block[] {
  return [
    { kind: "heading", level: 1, text: "Provenance" },
    {
      kind: "facts",
      title: "Ledger",
      rows: [
        ["Station", data.station],
        ["Public key (Ed25519)", data.publicKey],
        ["Head", `entry ${data.head.sequence}, ${data.head.hash}`],
        ["Newest entry", momentWords(data.head.at)],
        ["Program", `asfound ${data.version}`],
      ],
    },
    {
      kind: "paragraph",
      text: "The hash of an entry is the SHA-256 of its RFC 8785 canonical JSON without the fields hash and signature; each entry holds the hash of the one before. A chain alone does not stop someone from rewriting all of it: compare the head above with a copy that was given away before.",
    },
    ...stampBlocks(data),
    ...(data.published
      ? [
          {
            kind: "paragraph" as const,
            text: "This is a published copy: names, streets, serial numbers and days were left out or replaced by keyed codes. The hashes are those of the sealed originals.",
          },
        ]
      : []),
    {
      kind: "table",
      title: "Entries on which this exhibit rests",
      header: ["Entry", "Entered", "Kind", "SHA-256"],
      rows: data.entries.map((entry) => [
        String(entry.sequence),
        momentWords(entry.at),
        entry.kind,
        entry.hash,
      ]),
      widths: [0.08, 0.2, 0.19, 0.53],
      mono: [3],
    },
    {
      kind: "table",
      title: "Samples of each test",
      header: ["Test", "Samples", "SHA-256 of the stored blocks"],
      rows: shotsOf(data).map(({ shot, closed }) => [shot, String(closed.samples), closed.samplesHash]),
      widths: [0.2, 0.14, 0.66],
      mono: [2],
    },
  ];
}

/** The time stamp over these entries, or that there is none. */
function stampBlocks(data: ExhibitData): Block[] {
  const stamps = data.entries.flatMap(({ kind, sequence, body }) =>
    kind === "time-stamped" ? [{ sequence, body: body as EntryBodies["time-stamped"] }] : [],
  );
  if (stamps.length === 0)
    return [{ kind: "paragraph", text: "No time stamp of an authority over the ledger is on record." }];
  return [
    {
      kind: "facts",
      title:
        "Time stamp (RFC 3161); whether its authority is to be trusted is checked with the authority's root",
      rows: stamps.map(({ sequence, body }) => [
        `Entry ${sequence}`,
        `the ledger up to entry ${body.entries} was there at ${body.time}, by the authority's clock`,
      ]),
    },
  ];
}

/** The entries as a table. */
export function entryRows(data: ExhibitData): DataTable {
  return {
    name: "entries",
    title: "Entries",
    header: ["sequence", "at_utc", "actor", "kind", "sha256", "previous", "signature", "sign_in"],
    rows: data.entries.map((entry) => [
      entry.sequence,
      entry.at,
      entry.actor,
      entry.kind,
      entry.hash,
      entry.previous,
      entry.signature,
      entry.signIn ?? null,
    ]),
  };
}
