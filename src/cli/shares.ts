import type { Command } from "commander";
import { formatPercent } from "../core/units/format-percent.ts";
import { sharesView } from "../lab/equipment-shares.ts";
import { textOfFile } from "../lab/pool-request.ts";
import { readConfidence } from "../lab/rates-question.ts";
import { printResult, runCommand, textTable } from "./output.ts";

/** `asfound shares`: how common equipment of each kind is among inspected places, by year. */
export function addShares(program: Command): void {
  program
    .command("shares")
    .description("shares of equipment kinds among inspected places, by year, from a CSV log place,year,kind")
    .argument("<file>", "CSV file")
    .option("--kind <kind>", "only this kind")
    .option("--confidence <c>", "two-sided confidence level", "0.95")
    .option("--json", "print one JSON document", false)
    .action((file: string, options: { kind?: string; confidence: string; json: boolean }) =>
      runCommand(options.json, () => {
        const view = sharesView(textOfFile(file), file, {
          kind: options.kind,
          confidence: readConfidence(options.confidence),
        });
        printResult(options.json, view, () =>
          [
            textTable([
              ["kind", "year", "with it", "of places", "share", "exact"],
              ...view.kinds.flatMap(({ kind, years, all }) =>
                [...years.map((one) => ({ ...one, when: String(one.year) })), { ...all, when: "all" }].map(
                  (one) => [
                    ...[kind, one.when, String(one.withKind), String(one.places), formatPercent(one.share)],
                    `${formatPercent(one.exact.lower)} to ${formatPercent(one.exact.upper)}`,
                  ],
                ),
              ),
            ]),
            ...view.kinds.flatMap(({ kind, trend }) => (trend === null ? [] : [`${kind}: ${trend.words}`])),
            ...view.notes,
          ].join("\n"),
        );
      }),
    );
}
