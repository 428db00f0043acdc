import type { Command } from "commander";
import type { StudyView } from "../contract/studies.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { importStudies, recordedStudies } from "../lab/import-studies.ts";
import { textOfFile } from "../lab/pool-request.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Options = { data: string; json: boolean };

/** `asfound studies import FILE.csv` and `asfound studies list`: counts taken from publications. */
export function addStudies(program: Command): void {
  const studies = program.command("studies").description("counts taken from publications");
  studies
    .command("import")
    .description(
      "record the studies of a CSV file: study,year,stratum,criterion,multiple,tested,failed,selection,citation and rob_… columns",
    )
    .argument("<file>", "CSV file")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action((file: string, { data, json }: Options) =>
      runCommand(json, () => {
        const text = textOfFile(file);
        writingTo(data, (lab) => {
          const recorded = importStudies(lab, text, file);
          printResult(
            json,
            { studies: recorded },
            () => `${recorded.length} recorded\n${studiesTable(recorded)}`,
          );
        });
      }),
    );
  studies
    .command("list")
    .description("list the recorded studies")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: Options) =>
      runCommand(json, () => {
        readingFrom(data, (lab) => {
          const recorded = recordedStudies(lab);
          printResult(json, { studies: recorded }, () => studiesTable(recorded));
        });
      }),
    );
}

function studiesTable(studies: readonly StudyView[]): string {
  return textTable([
    [
      "entry",
      "study",
      "year",
      "stratum",
      "failed",
      "of",
      "rate",
      "exact 95 %",
      "selection",
      "at",
      "criterion",
    ],
    ...studies.map(({ sequence, counts, estimate, exact }) => [
      ...[String(sequence ?? ""), counts.study, String(counts.year), counts.stratum],
      ...[String(counts.failed), String(counts.tested), formatPercent(estimate)],
      `${formatPercent(exact.lower)} to ${formatPercent(exact.upper)}`,
      ...[
        counts.selection,
        counts.multiple === null ? "" : formatMultiple(counts.multiple),
        counts.criterion,
      ],
    ]),
  ]);
}
