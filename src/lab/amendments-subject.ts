import type { EntryBodies, EntryKind, LedgerEntry, Subject } from "../contract/ledger-entries.ts";

const named: { readonly [K in EntryKind]?: (body: EntryBodies[K]) => Subject } = {
  "specimen-received": ({ specimen }) => ({ kind: "specimen", id: specimen }),
  "handle-moved": ({ specimen }) => ({ kind: "specimen", id: specimen }),
  "programme-locked": ({ specimen }) => ({ kind: "specimen", id: specimen }),
  "gate-passed": ({ specimen }) => ({ kind: "specimen", id: specimen }),
  "shot-opened": ({ shot }) => ({ kind: "shot", id: shot }),
  "shot-closed": ({ shot }) => ({ kind: "shot", id: shot }),
  "job-opened": ({ job }) => ({ kind: "job", id: job }),
  "custody-moved": ({ about }) => about,
  "photograph-added": ({ about }) => about,
  "record-reviewed": ({ about }) => about,
  "record-released": ({ about }) => about,
};

/** What an entry is about, or null for one about the lab as a whole. An amendment is about what it amends. */
export function subjectOf(entry: LedgerEntry): Subject | null {
  if (entry.kind === "entry-amended") return (entry.body as EntryBodies["entry-amended"]).about;
  const find = named[entry.kind] as ((body: unknown) => Subject) | undefined;
  return find?.(entry.body) ?? null;
}
