import { writeFileSync } from "node:fs";
import type { Command } from "commander";
import type { ExhibitClass } from "../exhibit/document-data.ts";
import { makeExhibit } from "../lab/make-exhibit.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { refuseExisting } from "./new-file.ts";
import { choiceOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { chosenSubject } from "./package.ts";

type Options = {
  data: string;
  specimen?: string;
  job?: string;
  out?: string;
  label?: string;
  case?: string;
  class: ExhibitClass;
  bates?: string;
  json: boolean;
};

const classes: readonly ExhibitClass[] = ["original", "duplicate", "summary", "illustrative"];

/** `asfound exhibit`: the PDF of one specimen or one job. */
export function addExhibit(program: Command): void {
  program
    .command("exhibit")
    .description("make an exhibit of one specimen or one job, as PDF")
    .requiredOption("--data <dir>", "data directory")
    .option("--specimen <id>", "identifier or label of a specimen")
    .option("--job <name>", "all specimens of this job")
    .option("--out <file>", "name of the PDF; by default from the subject, in this folder")
    .option("--label <text>", 'exhibit label, such as "Exhibit A"')
    .option("--case <text>", "case, as the court words it")
    .option("--class <class>", `what it is: ${classes.join(", ")}`, choiceOption(classes), "summary" as const)
    .option("--bates <prefix>", "number the pages in Bates form with this prefix")
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, async () => {
        const lab = openLabForReading(options.data);
        try {
          const subject = chosenSubject(lab, options);
          const name = "specimen" in subject ? subject.specimen : subject.job;
          const out = options.out ?? `exhibit-${name.replace(/[^\p{L}\p{N}-]+/gu, "-")}.pdf`;
          refuseExisting(out);
          const exhibit = await makeExhibit(lab, subject, {
            class: options.class,
            ...(options.label === undefined ? {} : { label: options.label }),
            ...(options.case === undefined ? {} : { caseText: options.case }),
            ...(options.bates === undefined ? {} : { bates: options.bates }),
          });
          writeFileSync(out, exhibit.pdf, { flag: "wx" });
          printResult(
            options.json,
            { out, title: exhibit.title, bytes: exhibit.pdf.length, figures: exhibit.figures.length },
            () => `${out}: ${exhibit.title}, ${exhibit.pdf.length} bytes`,
          );
        } finally {
          lab.store.close();
        }
      }),
    );
}
