import { writeFileSync } from "node:fs";
import type { Command } from "commander";
import type { ExhibitClass } from "../exhibit/document-data.ts";
import { InputError } from "../lab/input-error.ts";
import { makeExhibit } from "../lab/make-exhibit.ts";
import { makeRatesExhibit } from "../lab/make-rates-exhibit.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { readRateQuestion } from "../lab/rates-question.ts";
import { refuseExisting } from "./new-file.ts";
import { choiceOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { chosenSubject } from "./package.ts";
import { type CountingOptions, countingQuery, withCountingOptions } from "./rates.ts";

type Options = CountingOptions & {
  data: string;
  rates: boolean;
  mixedCriteria: boolean;
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

/** `asfound exhibit`: the PDF of one specimen, one job, or the failure rates of the lab's specimens. */
export function addExhibit(program: Command): void {
  withCountingOptions(
    program
      .command("exhibit")
      .description("make an exhibit of one specimen, of one job, or of failure rates, as PDF")
      .requiredOption("--data <dir>", "data directory"),
  )
    .option("--rates", "failure rates instead; the options that divide and count belong to it", false)
    .option("--mixed-criteria", "with --rates: pool studies of different criteria, marked", false)
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
        refuseStrayOptions(options);
        const lab = openLabForReading(options.data);
        try {
          const subject = options.rates ? null : chosenSubject(lab, options);
          const name = subject === null ? "rates" : "specimen" in subject ? subject.specimen : subject.job;
          const out = options.out ?? `exhibit-${name.replace(/[^\p{L}\p{N}-]+/gu, "-")}.pdf`;
          refuseExisting(out);
          const told = {
            class: options.class,
            ...(options.label === undefined ? {} : { label: options.label }),
            ...(options.case === undefined ? {} : { caseText: options.case }),
            ...(options.bates === undefined ? {} : { bates: options.bates }),
          };
          const exhibit =
            subject === null
              ? await makeRatesExhibit(lab, readRateQuestion(countingQuery(options)), {
                  ...told,
                  mixedCriteria: options.mixedCriteria,
                })
              : await makeExhibit(lab, subject, told);
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

/** Options that would be passed over in silence are refused. */
function refuseStrayOptions({ rates, specimen, job, mixedCriteria, ...rest }: Options): void {
  if (rates && (specimen !== undefined || job !== undefined))
    throw new InputError("found --rates with --specimen or --job; accepted is one of them");
  const counting = Object.keys(countingQuery(rest));
  if (mixedCriteria) counting.push("mixed-criteria");
  if (!rates && counting.length > 0)
    throw new InputError(`found --${counting.join(", --")}; accepted only with --rates`);
}
