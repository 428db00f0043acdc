import type { Command } from "commander";
import { writePackage } from "../exchange/package-place.ts";
import type { Subject } from "../lab/exhibit-data.ts";
import { InputError } from "../lab/input-error.ts";
import type { Lab } from "../lab/lab.ts";
import { makePackage } from "../lab/make-package.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { printResult, runCommand } from "./output.ts";

type Options = {
  data: string;
  specimen?: string;
  job?: string;
  out: string;
  label?: string;
  case?: string;
  publish: boolean;
  json: boolean;
};

/** `asfound package`: a folder or zip with records, proofs, samples and exhibit, for whoever does not trust the station. */
export function addPackage(program: Command): void {
  program
    .command("package")
    .description("make a package of one specimen or one job that anyone can check")
    .requiredOption("--data <dir>", "data directory")
    .option("--specimen <id>", "identifier or label of a specimen")
    .option("--job <name>", "all specimens of this job")
    .requiredOption("--out <place>", "a new folder, or a new file that ends in .zip")
    .option("--label <text>", 'exhibit label, such as "Exhibit A"')
    .option("--case <text>", "case, as the court words it")
    .option("--publish", "leave out names, streets and serial numbers, or replace them by keyed codes", false)
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, async () => {
        const lab = openLabForReading(options.data);
        try {
          const files = await makePackage(lab, chosenSubject(lab, options), {
            publish: options.publish,
            ...(options.label === undefined ? {} : { label: options.label }),
            ...(options.case === undefined ? {} : { caseText: options.case }),
          });
          writePackage(options.out, files);
          const bytes = [...files.values()].reduce((sum, one) => sum + one.length, 0);
          printResult(
            options.json,
            { out: options.out, files: files.size, bytes, published: options.publish },
            () =>
              `${options.out}: ${files.size} files, ${bytes} bytes. Its data/HOW-TO-CHECK.txt tells how to check it.`,
          );
        } finally {
          lab.store.close();
        }
      }),
    );
}

/** The one subject that the options name; a specimen by its identifier or its label. */
export function chosenSubject(
  lab: Pick<Lab, "store">,
  { specimen, job }: { specimen?: string; job?: string },
): Subject {
  if (specimen !== undefined && job === undefined)
    return { specimen: lab.store.records.specimenByLabel(specimen)?.specimen ?? specimen };
  if (job !== undefined && specimen === undefined) return { job };
  throw new InputError(
    `found ${specimen === undefined ? "neither --specimen nor --job" : "both --specimen and --job"}; accepted is one of them`,
  );
}
