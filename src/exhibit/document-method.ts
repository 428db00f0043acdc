import { flagMeanings } from "../core/signal/flags.ts";
import { type ExhibitData, shotsOf } from "./document-data.ts";
import type { Block } from "./document-model.ts";
import { testWords } from "./document-words.ts";

/** How it was done, what the method cannot say, what was left out and why, and the cautions. */
export function methodBlocks(data: ExhibitData): Block[] {
  const emulated = shotsOf(data).filter(({ opened }) => opened.rig.emulated).length;
  return [
    { kind: "heading", level: 1, text: "Method" },
    {
      kind: "list",
      items: [
        "A held alternating current, a multiple of the marked rating, was driven through the poles named. Its true RMS value was sampled window by window on the rig's own clock; the computer's clock dates entries and nothing else.",
        "Onset and opening are read from the samples. The effective current is the root mean square over the on-time; the time is that from onset to opening, with the interval in which it must lie.",
        "Limit row and decision rule were written to the ledger before the current was switched on. Reading and verdict are computed from the stored samples and can be derived again, byte for byte.",
        ...(emulated > 0
          ? [`${emulated} of the tests ran on an EMULATED rig: no breaker and no current were there.`]
          : []),
      ],
    },
    { kind: "heading", level: 1, text: "Limits of the method" },
    {
      kind: "list",
      items: [
        "The results relate only to the specimens tested, in the state in which they were tested.",
        "A test was made on a bench, with leads, ambient and enclosure that may differ from the installation and from the type test of the standard whose limits are used.",
        "A test alters a specimen: only the first test on a specimen that was not operated since receipt shows it as found.",
        "Trip by overcurrent is tested. Interrupting capacity, insulation, contact resistance and ground- or arc-fault functions are not.",
        "A pass says what one specimen did in one test; it is no statement that an installation is safe.",
        data.rateCaution,
      ],
    },
    { kind: "heading", level: 1, text: "Deviations and exclusions" },
    exclusionBlock(data),
    { kind: "heading", level: 1, text: "Cautions" },
    { kind: "list", items: data.cautions },
  ];
}

function exclusionBlock(data: ExhibitData): Block {
  const items = shotsOf(data).flatMap((shot) => {
    const { reading, verdict } = shot.closed;
    const flags = reading.flags.map((flag) => `${flagMeanings[flag].words} ${flagMeanings[flag].why}`);
    if (verdict.result === "undetermined")
      flags.unshift("Without a verdict: it ended before it could decide.");
    return flags.length === 0
      ? []
      : [`${shot.shot} (${testWords(shot)}), ${verdict.result}: ${flags.join(" ")}`];
  });
  const open = data.openShots.map((shot) => `${shot}: still open; not part of this exhibit.`);
  return items.length + open.length === 0
    ? { kind: "paragraph", text: "No deviation from the method was recorded and no test was excluded." }
    : { kind: "list", items: [...items, ...open] };
}
