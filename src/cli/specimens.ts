import type { Command } from "commander";
import { openLabForReading } from "../lab/open-lab.ts";
import { specimenViews } from "../lab/specimen-view.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { stateWords } from "./words.ts";

/** `asfound specimens`: all specimens of a data directory. */
export function addSpecimens(program: Command): void {
  program
    .command("specimens")
    .description("list the specimens")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: { data: string; json: boolean }) =>
      runCommand(json, () => {
        const lab = openLabForReading(data);
        try {
          const specimens = specimenViews(lab);
          printResult(json, { specimens }, () =>
            textTable([
              ["specimen", "label", "rated A", "poles", "V", "job", "state", "tests", "newest"],
              ...specimens.map((one) => [
                one.id,
                one.details.label,
                String(one.details.ratedAmps),
                String(one.details.poles),
                String(one.details.volts),
                one.details.job ?? "",
                stateWords(one.state),
                String(one.shots),
                one.lastResult ?? "",
              ]),
            ]),
          );
        } finally {
          lab.store.close();
        }
      }),
    );
}
