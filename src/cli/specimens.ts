import type { Command } from "commander";
import { importSpecimens, neededColumns, specimenColumns } from "../lab/import-specimens.ts";
import { specimenViews } from "../lab/specimen-view.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";
import { stateWords } from "./words.ts";

type Options = { data: string; json: boolean };

/** `asfound specimens`: all specimens of a data directory; `asfound specimens import FILE.csv` receives a list of them. */
export function addSpecimens(program: Command): void {
  const specimens = program
    .command("specimens")
    .description("list the specimens, or receive a list of them")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: Options) => runCommand(json, () => list(data, json)));
  specimens
    .command("import")
    .description("receive every specimen of a CSV file, all or none")
    .argument("<file>", "CSV with a header; an empty field is not known")
    .addHelpText(
      "after",
      `\nAlso: --data <dir> and --json, as above.\nColumns that must be there: ${neededColumns.join(", ")}\nColumns that may be there: ${specimenColumns.filter((name) => !neededColumns.includes(name)).join(", ")}`,
    )
    // Options that both commands have are read by the outer one.
    .action((file: string, _own: object, command: Command) => {
      const { data, json } = command.optsWithGlobals<Options>();
      return runCommand(json, () => receiveList(file, data, json));
    });
}

function list(data: string, json: boolean): void {
  readingFrom(data, (lab) => {
    const specimens = specimenViews(lab);
    printResult(json, { specimens }, () =>
      textTable([
        ["specimen", "label", "rated A", "poles", "V", "job", "state", "tests", "result"],
        ...specimens.map((one) => [
          one.id,
          one.details.label,
          String(one.details.ratedAmps),
          String(one.details.poles),
          String(one.details.volts),
          one.details.job ?? "",
          stateWords(one.state),
          String(one.shots),
          one.result ?? "",
        ]),
      ]),
    );
  });
}

function receiveList(file: string, data: string, json: boolean): void {
  writingTo(data, (lab) => {
    const received = importSpecimens(lab, file);
    printResult(json, { received }, () =>
      [
        `Received ${received.length} specimens:`,
        ...received.map(({ specimen, label }) => `  ${specimen}  ${label}`),
      ].join("\n"),
    );
  });
}
