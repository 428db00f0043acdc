import type { Command } from "commander";
import { requirementWords } from "../core/limits/requirement-words.ts";
import { loadLimitLibrary } from "../lab/limit-library.ts";
import { printResult, runCommand, textTable } from "./output.ts";

/** `asfound limits`: every limit set with every row, its source and how well it is known. */
export function addLimits(program: Command): void {
  program
    .command("limits")
    .description("show every limit set with every row, its source and how well it is known")
    .option("--set <name>", "only this set")
    .option("--json", "print one JSON document", false)
    .action(({ set, json }: { set?: string; json: boolean }) =>
      runCommand(json, () => {
        const library = loadLimitLibrary();
        const sets = set === undefined ? library.all() : [library.get(set)];
        printResult(json, { sets }, () =>
          sets
            .map((one) =>
              [
                `${one.id}: ${one.title}`,
                one.about,
                textTable([
                  ["row", "rated A over", "to", "percent", "requirement", "loading", "standing"],
                  ...one.rows.map((row) => [
                    row.id,
                    String(row.ratedOverAmps),
                    row.ratedToAmps === null ? "–" : String(row.ratedToAmps),
                    String(Math.round(row.multiple * 100)),
                    requirementWords(row.requirement),
                    row.loading,
                    `${row.source.standing}${row.source.doubtful ? ", doubtful" : ""}`,
                  ]),
                ]),
              ].join("\n"),
            )
            .join("\n\n"),
        );
      }),
    );
}
