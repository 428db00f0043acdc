import { formatAmps } from "../core/units/format-amps.ts";
import { type DocumentFrame, framed } from "./document-frame.ts";
import type { Block, ExhibitDocument } from "./document-model.ts";

/** What a specimen did, in the words of a letter: the gravest of its tests. */
export type LetterResult =
  | "did not protect"
  | "opened too soon"
  | "too near the limit"
  | "not decided"
  | "passed"
  | "not tested";

/** One specimen of a letter. `place` says where it was, as far as that is known. */
export interface LetterSpecimen {
  label: string;
  ratedAmps: number;
  poles: number;
  place: string | null;
  result: LetterResult;
  /** What decided, for those that did not pass: `200 %: no trip in 2 min; the limit is 2 min`. */
  words: string | null;
}

/** Everything that a letter says. */
export interface LetterData {
  frame: DocumentFrame;
  to: string | null;
  /** `job NAME` or `breaker LABEL`. */
  about: string;
  specimens: readonly LetterSpecimen[];
  /** Whether every limit was confirmed by the lab against its own copy of the document. */
  confirmed: boolean;
  /** Whether some were chosen because they were suspected. */
  onSuspicion: boolean;
  cautions: readonly string[];
}

const order: readonly LetterResult[] = [
  "did not protect",
  "opened too soon",
  "too near the limit",
  "not decided",
  "passed",
  "not tested",
];

const countWords: Readonly<Record<LetterResult, (n: number) => string>> = {
  "did not protect": (n) =>
    `${n} did not switch off in time at a current at which ${n === 1 ? "it" : "they"} must`,
  "opened too soon": (n) => `${n} switched off although ${n === 1 ? "it" : "they"} should have stayed on`,
  "too near the limit": (n) => `${n} kept the limit, but not by the margin that our rule demands`,
  "not decided": (n) => `${n} could not be decided: the test ended too soon or could not be used`,
  passed: (n) => `${n} did what the test asks for`,
  "not tested": (n) => `${n} ${n === 1 ? "was" : "were"} not tested`,
};

/**
 * A letter in plain words for an owner, meant for one page.
 *
 * @param named at most so many of those that did not pass are named one by one
 */
export function documentOfLetter(data: LetterData, named: number): ExhibitDocument {
  const { frame, specimens } = data;
  const title =
    specimens.length === 1
      ? "What the test of your breaker showed"
      : "What the tests of your breakers showed";
  return {
    ...framed(frame),
    title,
    subject: "Letter to an owner: trip tests of circuit breakers",
    textSize: 9,
    blocks: [
      {
        kind: "paragraph",
        text: `${frame.lab}, ${frame.head.at.slice(0, 10)}\n${data.to === null ? "To the owner" : `To ${data.to}`}, about ${data.about}`,
      },
      { kind: "heading", level: 1, text: title },
      ...testedBlocks(data),
      ...foundBlocks(data, named),
      ...meaningBlocks(data),
      ...nextBlocks(data),
      { kind: "paragraph", weight: "small", text: `Cautions. ${data.cautions.join(" ")}` },
    ],
  };
}

function testedBlocks({ specimens }: LetterData): Block[] {
  const tested = specimens.filter(({ result }) => result !== "not tested").length;
  return [
    {
      kind: "paragraph",
      text: `A circuit breaker must switch off by itself when too much current flows for too long; if it does not, wires can overheat and start a fire. Nobody can see from outside whether it will. We received ${specimens.length === 1 ? "this breaker" : `${specimens.length} breakers`} and put ${tested === specimens.length ? (tested === 1 ? "it" : "each of them") : `${tested} of them`} on a bench that drives a steady current through a breaker, and measured how long it took to switch off. The times were compared with published limits.`,
    },
  ];
}

function foundBlocks({ specimens, confirmed }: LetterData, named: number): Block[] {
  const failed = specimens
    .filter(({ words }) => words !== null)
    .toSorted((a, b) => order.indexOf(a.result) - order.indexOf(b.result));
  const shown = failed.slice(0, named);
  const more = failed.length - shown.length;
  return [
    { kind: "heading", level: 2, text: "What we found" },
    {
      kind: "list",
      items: order.flatMap((result) => {
        const n = specimens.filter((one) => one.result === result).length;
        return n === 0 ? [] : [`${countWords[result](n)}.`];
      }),
    },
    ...(shown.length === 0
      ? []
      : [
          {
            kind: "table" as const,
            title: "Those that did not pass",
            header: ["Breaker", "Where it was", "What it did"],
            rows: shown.map(({ label, ratedAmps, poles, place, words }) => [
              `${short(label, 40)}, ${formatAmps(ratedAmps)}, ${poles} ${poles === 1 ? "pole" : "poles"}`,
              place === null ? "not recorded" : short(place, 60),
              words ?? "",
            ]),
            widths: [0.2, 0.22, 0.58],
          },
        ]),
    ...(more > 0
      ? [
          {
            kind: "paragraph" as const,
            text: `${more} more did not pass; the exhibit of this job lists them.`,
          },
        ]
      : []),
    ...(confirmed
      ? []
      : [
          {
            kind: "paragraph" as const,
            weight: "strong" as const,
            text: "The limits used are unconfirmed: the lab has not yet compared them all with its own copy of the document.",
          },
        ]),
  ];
}

function meaningBlocks({ specimens, onSuspicion }: LetterData): Block[] {
  const has = (result: LetterResult): boolean => specimens.some((one) => one.result === result);
  return [
    { kind: "heading", level: 2, text: "What it means" },
    {
      kind: "list",
      items: [
        ...(has("did not protect")
          ? [
              "A breaker that did not switch off in time could not be relied on, in this test, to protect the wires behind it from overheating.",
            ]
          : []),
        ...(has("opened too soon")
          ? [
              "A breaker that switches off too soon cuts power when it should not; it needs an electrician's look too.",
            ]
          : []),
        ...(has("too near the limit")
          ? [
              "Too near the limit counts as not passed: no measurement is exact, and the time may have been beyond it.",
            ]
          : []),
        ...(has("not decided")
          ? ["Where nothing was decided, nothing is known: it is neither a pass nor a fail."]
          : []),
        ...(has("passed")
          ? [
              "A pass says what one breaker did in one test on one day. It does not say that it will do so again, and it is no statement that the installation is safe.",
            ]
          : []),
        `The results hold only for the breakers tested. ${onSuspicion ? "Some of them were tested because they were suspected: their share of failures says nothing about other breakers." : "They do not tell how others in the building would do."}`,
        "Short circuits, ground faults and arc faults were not tested.",
      ],
    },
  ];
}

function nextBlocks({ specimens }: LetterData): Block[] {
  const failed = specimens.some(({ result }) => order.indexOf(result) < order.indexOf("not decided"));
  return [
    { kind: "heading", level: 2, text: "What to do next" },
    {
      kind: "list",
      items: [
        `Show this letter to a licensed electrician${failed ? ", soon" : ""}. ${failed ? "Breakers that did not pass must not be used again. Let the electrician decide what replaces them and whether others of the same kind and age should be looked at." : "Let the electrician decide what, if anything, is to be done."}`,
        "Ask your local building or electrical authority what it requires, such as a permit or an inspection. Local codes and licensed practice decide, not this letter.",
        "Do not test breakers yourself and do not open the panel. If a panel is hot, hums, sparks or smells burnt, keep away from it and call the fire service.",
        "Keep this letter. The full record with every measurement can be asked for at the laboratory.",
      ],
    },
  ];
}

const short = (text: string, most: number): string =>
  text.length > most ? `${text.slice(0, most - 1)}…` : text;
