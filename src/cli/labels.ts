import { writeFileSync } from "node:fs";
import type { Command } from "commander";
import { InputError } from "../lab/input-error.ts";
import { makeLabels } from "../lab/make-labels.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { refuseExisting } from "./new-file.ts";
import { integerOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";

type Options = {
  data: string;
  specimen?: string[];
  job?: string;
  out: string;
  skip: number;
  json: boolean;
};

/** `asfound labels`: sheets of labels with codes, to print and stick on. */
export function addLabels(program: Command): void {
  program
    .command("labels")
    .description("make sheets of labels with the code of each specimen, as PDF; of all where none is named")
    .requiredOption("--data <dir>", "data directory")
    .option("--specimen <id...>", "identifiers or labels of specimens")
    .option("--job <name>", "all specimens of this job")
    .requiredOption("--out <file>", "a new file for the PDF")
    .option("--skip <places>", "labels already taken from the first sheet", integerOption(0, 29), 0)
    .option("--json", "print one JSON document", false)
    .action(({ data, specimen, job, out, skip, json }: Options) =>
      runCommand(json, async () => {
        if (specimen !== undefined && job !== undefined)
          throw new InputError("found both --specimen and --job; accepted is one of them, or none for all");
        refuseExisting(out);
        const lab = openLabForReading(data);
        try {
          const which =
            specimen !== undefined ? { specimens: specimen } : job !== undefined ? { job } : "all";
          const { pdf, labels } = await makeLabels(lab, which, skip);
          writeFileSync(out, pdf, { flag: "wx" });
          printResult(json, { out, labels, bytes: pdf.length }, () => `${out}: ${labels} labels`);
        } finally {
          lab.store.close();
        }
      }),
    );
}
