import type { Command } from "commander";
import type { PanelQuery, PlaceQuery } from "../contract/plans.ts";
import { InputError } from "../lab/input-error.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { panelView, placeView } from "../lab/place-risk.ts";
import { printResult, runCommand } from "./output.ts";

/** `asfound place`: bounds on the failures among the breakers of a place that are still in service. */
export function addPlace(program: Command): void {
  program
    .command("place")
    .description("of N breakers some were tested and some failed: bounds for those still in service")
    .requiredOption("--N <n>", "breakers in the place, those tested included")
    .requiredOption("--tested <n>", "breakers tested")
    .requiredOption("--failed <n>", "of them failed")
    .option("--confidence <c>", "confidence", "0.95")
    .option("--json", "print one JSON document", false)
    .action(({ json, ...query }: PlaceQuery & { json: boolean }) =>
      runCommand(json, () => {
        const view = placeView(query);
        printResult(json, view, () => [view.sentence, ...view.words].join("\n"));
      }),
    );
}

/** `asfound panel`: what rates mean for a panel of given breakers. */
export function addPanel(program: Command): void {
  program
    .command("panel")
    .description("chance that at least one breaker of a panel would fail, and what an overload would meet")
    .requiredOption("--one-pole <n>", "one-pole breakers in the panel")
    .requiredOption("--two-pole <n>", "two-pole breakers in the panel")
    .option("--one-pole-tested <n>", "one-pole breakers tested")
    .option("--one-pole-failed <n>", "of them failed")
    .option("--two-pole-tested <n>", "two-pole breakers tested")
    .option("--two-pole-failed <n>", "of them failed")
    .option("--data <dir>", "take the counts from this lab's own rates instead")
    .option("--point <m>", "with --data: only shots at this multiple of rated current")
    .option("--confidence <c>", "level of the intervals", "0.95")
    .option("--json", "print one JSON document", false)
    .action(({ json, data, ...query }: PanelQuery & { json: boolean; data?: string }) =>
      runCommand(json, () => {
        if (data !== undefined && (query.onePoleTested ?? query.twoPoleTested) !== undefined)
          throw new InputError("found --data and counts of tested breakers; accepted: one or the other");
        const lab = data === undefined ? null : openLabForReading(data);
        try {
          const view = panelView(lab === null ? query : { ...query, fromLab: "true" }, lab);
          printResult(json, view, () => [view.sentence, ...view.words].join("\n"));
        } finally {
          lab?.store.close();
        }
      }),
    );
}
