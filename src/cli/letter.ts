import { writeFileSync } from "node:fs";
import type { Command } from "commander";
import { makeLetter } from "../lab/make-letter.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { refuseExisting } from "./new-file.ts";
import { printResult, runCommand } from "./output.ts";
import { chosenSubject } from "./package.ts";

type Options = { data: string; specimen?: string; job?: string; out: string; to?: string; json: boolean };

/** `asfound letter`: one page in plain words for an owner. */
export function addLetter(program: Command): void {
  program
    .command("letter")
    .description("make a letter of one page in plain words for an owner, as PDF")
    .requiredOption("--data <dir>", "data directory")
    .option("--specimen <id>", "identifier or label of a specimen")
    .option("--job <name>", "all specimens of this job")
    .requiredOption("--out <file>", "a new file for the PDF")
    .option("--to <name>", "whom it is for")
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, async () => {
        refuseExisting(options.out);
        const lab = openLabForReading(options.data);
        try {
          const { title, pdf } = await makeLetter(lab, chosenSubject(lab, options), options.to ?? null);
          writeFileSync(options.out, pdf, { flag: "wx" });
          printResult(
            options.json,
            { out: options.out, title, bytes: pdf.length },
            () => `${options.out}: ${title}, ${pdf.length} bytes`,
          );
        } finally {
          lab.store.close();
        }
      }),
    );
}
