import { formatAmps } from "../core/units/format-amps.ts";
import { amendmentRows, releaseBlocks, releaseStandings } from "./document-amendments.ts";
import { chainRows, photographRows } from "./document-custody.ts";
import { type ExhibitClass, type ExhibitData, shotsOf } from "./document-data.ts";
import { framed } from "./document-frame.ts";
import { limitBlocks, limitRows } from "./document-limits.ts";
import { methodBlocks } from "./document-method.ts";
import type { Block, DataTable, ExhibitDocument } from "./document-model.ts";
import { entryRows, provenanceBlocks } from "./document-provenance.ts";
import { reportFieldBlocks } from "./document-report-fields.ts";
import { readingRows, resultBlocks } from "./document-results.ts";
import { custodyRows, specimenBlocks } from "./document-specimens.ts";
import { budgetRows, uncertaintyBlocks } from "./document-uncertainty.ts";
import { momentWords, resultWords } from "./document-words.ts";

/** What the class of an exhibit means to a reader. */
export const classWords: Readonly<Record<ExhibitClass, string>> = {
  original: "original record: printed from the records themselves",
  duplicate: "duplicate of a record; compare its hashes with the original",
  summary:
    "summary of voluminous records; the records themselves are available to the other side in the package",
  illustrative: "illustrative aid; it is not evidence by itself",
};

/** The document of an exhibit. Text, tables and figures follow from `data` alone. */
export function documentOfExhibit(data: ExhibitData): ExhibitDocument {
  const title = titleOf(data);
  const emulated = shotsOf(data).some(({ opened }) => opened.rig.emulated);
  return {
    ...framed({ ...data, emulated }),
    title,
    subject: "Trip tests of circuit breakers, as found",
    blocks: [
      ...openingBlocks(data, title),
      ...resultBlocks(data),
      ...specimenBlocks(data),
      ...limitBlocks(data),
      ...uncertaintyBlocks(data),
      ...methodBlocks(data),
      ...reportFieldBlocks(data, title),
      ...provenanceBlocks(data),
      { kind: "paragraph", text: "End of exhibit.", weight: "strong" },
    ],
  };
}

/** Every table of an exhibit, for its CSV. */
export function tablesOfExhibit(data: ExhibitData): DataTable[] {
  return [
    readingRows(data),
    budgetRows(data),
    limitRows(data),
    custodyRows(data),
    chainRows(data),
    photographRows(data),
    amendmentRows(data),
    entryRows(data),
  ];
}

function titleOf(data: ExhibitData): string {
  const [only] = data.specimens;
  if ("job" in data.subject) return `Trip tests of job ${data.subject.job}`;
  return only === undefined ? "Trip tests" : `Trip tests of specimen ${only.details.label}`;
}

function openingBlocks(data: ExhibitData, title: string): Block[] {
  const shots = shotsOf(data);
  const counts = (["pass", "fail", "undetermined", "excluded"] as const).flatMap((result) => {
    const n = shots.filter(({ closed }) => closed.verdict.result === result).length;
    return n === 0 ? [] : [`${n} × ${resultWords(result)}`];
  });
  const [only] = data.specimens;
  return [
    { kind: "heading", level: 1, text: title },
    {
      kind: "facts",
      title: "This exhibit",
      rows: [
        ["Exhibit", data.label ?? "not labelled"],
        ["Case", data.caseText ?? "none given"],
        ["Class", classWords[data.class]],
        ["Laboratory", data.lab],
        ["As of", `${momentWords(data.head.at)}, entry ${data.head.sequence} of ledger ${data.station}`],
        [
          "Subject",
          data.specimens.length === 1 && only !== undefined
            ? `${only.details.label} (${only.specimen}), ${formatAmps(only.details.ratedAmps)}, ${only.details.poles} pole${only.details.poles === 1 ? "" : "s"}`
            : `${data.specimens.length} specimens`,
        ],
        ["Record", recordWords(data)],
        ["Tests", `${shots.length}: ${counts.join(", ") || "none finished"}`],
      ],
    },
    ...releaseBlocks(data),
    { kind: "paragraph", weight: "strong", text: "These results relate only to the specimens tested." },
  ];
}

function recordWords(data: ExhibitData): string {
  const standings = releaseStandings(data);
  return (["in force", "amended after release", "not released"] as const)
    .flatMap((state) => {
      const n = standings.filter((one) => one.state === state).length;
      if (n === 0) return [];
      const words = state === "in force" ? "released, in force" : state;
      return [standings.length === 1 ? words : `${n} × ${words}`];
    })
    .join(", ");
}
