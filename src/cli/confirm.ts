import type { Command } from "commander";
import { confirmLimitSet } from "../lab/confirm-limit-set.ts";
import { printResult, runCommand } from "./output.ts";
import { writingTo } from "./with-lab.ts";

type Options = {
  data: string;
  set: string;
  edition: string;
  document: string;
  by: string;
  on?: string;
  rows: string;
  note?: string;
  json: boolean;
};

/** `asfound confirm`: rows of a limit set were compared with the lab's own copy of the document. */
export function addConfirm(program: Command): void {
  program
    .command("confirm")
    .description("write down that rows of a limit set agree with the lab's own copy of the document")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--set <name>", "limit set")
    .requiredOption("--edition <text>", "edition of the lab's own copy")
    .requiredOption("--document <text>", "the document, by its name")
    .requiredOption("--by <who>", "who compared")
    .option("--on <date>", "day on which it was compared, YYYY-MM-DD (default today)")
    .option("--rows <list>", "identifiers of rows with commas between, or all", "all")
    .option("--note <text>", "what else matters")
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        writingTo(options.data, (lab) => {
          const rows = options.rows === "all" ? undefined : options.rows.split(",").map((row) => row.trim());
          const body = confirmLimitSet(lab, options.set, {
            document: options.document,
            edition: options.edition,
            by: options.by,
            ...(options.on === undefined ? {} : { on: options.on }),
            ...(rows === undefined ? {} : { rows }),
            ...(options.note === undefined ? {} : { note: options.note }),
          });
          printResult(
            options.json,
            body,
            () =>
              `Confirmed by ${body.by} on ${body.on} against ${body.document}, ${body.edition}: ${body.rows.join(", ")} of ${body.limitSet}. It holds while the set has the SHA-256 ${body.limitSetHash}.`,
          );
        });
      }),
    );
}
