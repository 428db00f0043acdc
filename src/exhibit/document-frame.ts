import type { ExhibitDocument } from "./document-model.ts";

/** What every page of every document says of where it comes from. */
export interface DocumentFrame {
  lab: string;
  station: string;
  head: { sequence: number; hash: string; at: string };
  label: string | null;
  caseText: string | null;
  bates: string | null;
  demo: boolean;
  /** True where any of it was made on an emulated rig. */
  emulated: boolean;
}

/** Everything of a document but its title, its subject and its blocks. */
export function framed({
  lab,
  station,
  head,
  label,
  caseText,
  bates,
  demo,
  emulated,
}: DocumentFrame): Omit<ExhibitDocument, "title" | "subject" | "blocks"> {
  return {
    author: lab,
    dated: new Date(head.at.length === 4 ? `${head.at}-01-01T00:00:00.000Z` : head.at),
    demoMark: demo
      ? "DEMO: invented specimens on an emulated rig. Nothing here was tested."
      : emulated
        ? "EMULATED RIG: no breaker and no current were there."
        : null,
    topLine: [label, caseText].filter(Boolean).join(" · "),
    sourceLine: `Relates only to the specimens tested. Ledger ${station}, entry ${head.sequence}, head ${head.hash.slice(0, 16)}…`,
    bates,
  };
}
