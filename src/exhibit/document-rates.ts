import type { RateCase, RateInterval, RateRow, RatesView } from "../contract/rates.ts";
import type { PoolView } from "../contract/studies.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { type DocumentFrame, framed } from "./document-frame.ts";
import type { Block, DataTable, ExhibitDocument, Figure } from "./document-model.ts";
import { momentWords } from "./document-words.ts";

/** Everything that an exhibit of failure rates says. */
export interface RatesData {
  frame: DocumentFrame;
  /** What the exhibit is to a court, in words. */
  classWords: string;
  version: string;
  publicKey: string;
  rates: RatesView;
  cases: readonly RateCase[];
  figures: { rates: Figure | null; forest: Figure | null };
  /** The studies on record beside the lab's own results; null where there are none. `refused` says why they are not pooled. */
  studies: { pool: PoolView | null; refused: string | null; recorded: number } | null;
}

const rate = (value: number | null): string => (value === null ? "not estimable" : formatPercent(value));
const range = (interval: RateInterval | null): string =>
  interval === null
    ? "not estimable"
    : `${formatPercent(interval.lower)} to ${formatPercent(interval.upper)}`;

/** Rows of a printed list of specimens; what is beyond is in the table for machines. */
const mostPrinted = 1000;

/** The exhibit of failure rates: criterion, counts, bounds, figures, who is in and out, and what a rate does not say. */
export function documentOfRates(data: RatesData): ExhibitDocument {
  const { frame, rates } = data;
  const title = "Failure rates of tested circuit breakers";
  return {
    ...framed(frame),
    title,
    subject: "Failure rates with criterion, counts and bounds",
    blocks: [
      { kind: "heading", level: 1, text: title },
      {
        kind: "facts",
        title: "This exhibit",
        rows: [
          ["Exhibit", frame.label ?? "not labelled"],
          ["Case", frame.caseText ?? "none given"],
          ["Class", data.classWords],
          ["Laboratory", frame.lab],
          ["As of", `${momentWords(frame.head.at)}, entry ${frame.head.sequence} of ledger ${frame.station}`],
          ["Criterion", rates.criterion],
        ],
      },
      { kind: "paragraph", weight: "strong", text: rates.sentence },
      ...rateBlocks(data),
      ...studyBlocks(data),
      ...caseBlocks(data),
      ...methodBlocks(data),
      ...sourceBlocks(data),
      { kind: "paragraph", text: "End of exhibit.", weight: "strong" },
    ],
  };
}

function rateBlocks({ rates, figures }: RatesData): Block[] {
  const rows = rates.question.by.length === 0 ? rates.rows : [...rates.rows, rates.total];
  const level = formatPercent(rates.question.confidence, 4);
  const clustered = rates.question.clusters !== "none";
  return [
    { kind: "heading", level: 1, text: "Rates" },
    {
      kind: "table",
      title: `Failed of decided; two-sided bounds at ${level}`,
      header: [
        "Stratum",
        "Failed of decided",
        "Rate",
        "Exact (Clopper-Pearson)",
        "Wilson",
        ...(clustered ? ["Allowing for clusters"] : []),
      ],
      rows: rows.map((row) => [
        row.label,
        `${row.k} of ${row.n}`,
        rate(row.estimate),
        range(row.intervals.clopperPearson),
        range(row.intervals.wilson),
        ...(clustered ? [clusterWords(row)] : []),
      ]),
      widths: clustered ? [0.19, 0.13, 0.13, 0.18, 0.18, 0.19] : [0.25, 0.17, 0.16, 0.21, 0.21],
    },
    {
      kind: "table",
      title: "Not decided: counted apart, with the rate if none of them and if all of them had failed",
      header: ["Stratum", "Undetermined", "Excluded", "If none had failed", "If all had failed"],
      rows: rows.map((row) => [
        row.label,
        String(row.undetermined),
        String(row.excluded),
        rate(row.lowest),
        rate(row.highest),
      ]),
      widths: [0.32, 0.15, 0.13, 0.2, 0.2],
    },
    ...(figures.rates === null ? [] : [{ kind: "figure" as const, figure: figures.rates }]),
    ...(rates.compared.length === 0
      ? []
      : [{ kind: "list" as const, items: rates.compared.map(({ words }) => words) }]),
  ];
}

const clusterWords = ({ intervals, clusters, designEffect }: RateRow): string =>
  `${range(intervals.clusterRobust)}; ${clusters ?? 0} clusters${designEffect === null ? "" : `, design effect ${designEffect.toFixed(2)}`}`;

function studyBlocks({ studies, figures }: RatesData): Block[] {
  const heading: Block = { kind: "heading", level: 1, text: "Beside published studies" };
  if (studies === null)
    return [heading, { kind: "paragraph", text: "No study is on record; this lab's results stand alone." }];
  const { pool, refused, recorded } = studies;
  if (pool === null)
    return [
      heading,
      {
        kind: "paragraph",
        text: `${recorded} ${recorded === 1 ? "study is" : "studies are"} on record and ${recorded === 1 ? "is" : "are"} not pooled here: ${refused ?? "not estimable"}`,
      },
    ];
  return [
    heading,
    { kind: "paragraph", text: pool.sentence },
    ...(figures.forest === null ? [] : [{ kind: "figure" as const, figure: figures.forest }]),
    {
      kind: "table",
      title: "Studies",
      header: ["Study", "Failed of tested", "Criterion", "How chosen", "Citation"],
      rows: pool.rows.map((row) => [
        `${row.label}${row.marked ? " †" : ""}`,
        `${row.k} of ${row.n}`,
        row.multiple === null ? row.criterion : `${row.criterion}, at ${formatMultiple(row.multiple)}`,
        row.selection,
        row.citation,
      ]),
      widths: [0.2, 0.11, 0.3, 0.12, 0.27],
    },
    ...(pool.rows.some(({ marked }) => marked)
      ? [
          {
            kind: "paragraph" as const,
            weight: "strong" as const,
            text: "† counted by another criterion than the first study: a rate pooled over different criteria answers no single question.",
          },
        ]
      : []),
    { kind: "list", items: [`Model: ${pool.modelWords}`, ...pool.notes] },
  ];
}

function caseBlocks({ rates, cases }: RatesData): Block[] {
  const { received, invented, inventedCounted, counted, notShotSo } = rates.specimens;
  const shown = cases.slice(0, mostPrinted);
  return [
    { kind: "heading", level: 1, text: "Who is in and who is out" },
    {
      kind: "paragraph",
      text: `${received} specimens were received${invented === 0 ? "" : `, ${invented} of them invented and ${inventedCounted ? "counted, because this lab is a demo" : "left out"}`}; ${counted} are counted, ${notShotSo} were not tested in the way that is counted.`,
    },
    ...(shown.length === 0
      ? []
      : [
          {
            kind: "table" as const,
            title: "Each specimen, with the test that decided and why it counts so",
            header: ["Specimen", "Test", "Stratum", "Counted as", "Why"],
            rows: shown.map((one) => [
              `${one.label} (${one.specimen})`,
              one.shot ?? "none",
              one.stratum,
              one.counted,
              one.why,
            ]),
            widths: [0.25, 0.16, 0.18, 0.13, 0.28],
          },
        ]),
    ...(cases.length > shown.length
      ? [
          {
            kind: "paragraph" as const,
            text: `${cases.length - shown.length} more are not printed; \`asfound rates\` and the page list them all.`,
          },
        ]
      : []),
  ];
}

function methodBlocks({ rates }: RatesData): Block[] {
  return [
    { kind: "heading", level: 1, text: "What a rate says, and what it does not" },
    { kind: "paragraph", weight: "strong", text: rates.caution },
    {
      kind: "list",
      items: [
        "A rate is failed over decided. What could not be decided is neither, and is counted apart.",
        "Exact bounds: Clopper and Pearson (1934), from the beta distribution; they cover at least at the level stated. Wilson (1927): score interval, close to the level on average.",
        ...(rates.question.clusters === "none"
          ? ["Specimens are taken as independent of each other: clusters were not asked for."]
          : [
              `Specimens of one ${rates.question.clusters} may be alike; the last column allows for it by a ratio estimator with a variance between clusters, on the logit scale with Student's t.`,
            ]),
        "The results relate only to the specimens tested. A pass says what one specimen did in one test; it is no statement that an installation is safe.",
        ...rates.notes,
      ],
    },
  ];
}

function sourceBlocks({ frame, publicKey, version }: RatesData): Block[] {
  return [
    { kind: "heading", level: 1, text: "Provenance" },
    {
      kind: "facts",
      title: "Ledger",
      rows: [
        ["Station", frame.station],
        ["Public key (Ed25519)", publicKey],
        ["Head", `entry ${frame.head.sequence}, ${frame.head.hash}`],
        ["Newest entry", momentWords(frame.head.at)],
        ["Program", `asfound ${version}`],
      ],
    },
    {
      kind: "paragraph",
      text: "Every count follows from entries of this ledger: the tests named above are in the package of their specimen or job, with samples and proofs, from which readings and verdicts can be derived again.",
    },
  ];
}

/** Who is in and who is out, for its CSV. */
export function caseRows(cases: readonly RateCase[]): DataTable {
  return {
    name: "specimens",
    title: "Specimens counted and not counted",
    header: ["specimen", "label", "test", "stratum", "counted", "why"],
    rows: cases.map((one) => [one.specimen, one.label, one.shot, one.stratum, one.counted, one.why]),
  };
}
