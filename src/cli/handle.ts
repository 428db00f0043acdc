import type { Command } from "commander";
import { moveHandle } from "../lab/move-handle.ts";
import { specimenView } from "../lab/specimen-view.ts";
import { integerOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { writingTo } from "./with-lab.ts";
import { stateWords } from "./words.ts";

type Options = { data: string; specimen: string; operations: number; note: string; json: boolean };

/** `asfound handle`: records that the handle of a specimen was worked by hand. */
export function addHandle(program: Command): void {
  program
    .command("handle")
    .description("record that the handle of a specimen was worked by hand; ends its as-found state")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <id>", "identifier of the specimen")
    .requiredOption("--operations <n>", "how many times it was operated", integerOption(1, 1000))
    .option("--note <text>", "why, or how it felt", "")
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        writingTo(options.data, (lab) => {
          moveHandle(lab, options.specimen, options.operations, options.note);
          const view = specimenView(lab, options.specimen);
          printResult(options.json, view, () => `${view.details.label}: ${stateWords(view.state)}`);
        });
      }),
    );
}
