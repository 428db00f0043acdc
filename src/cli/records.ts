import type { Command } from "commander";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { shotLines, shotView } from "../lab/shot-view.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom } from "./with-lab.ts";
import { readingWords, resultWords, stateWords } from "./words.ts";

/** `asfound records [SHOT]`: the list of shots, or one shot whole. */
export function addRecords(program: Command): void {
  program
    .command("records")
    .description("list the shots, or show one")
    .argument("[shot]", "identifier of a shot")
    .requiredOption("--data <dir>", "data directory")
    .option("--specimen <id>", "only shots of this specimen")
    .option("--json", "print one JSON document", false)
    .action((shot: string | undefined, options: { data: string; specimen?: string; json: boolean }) =>
      runCommand(options.json, () => {
        readingFrom(options.data, (lab) => {
          if (shot === undefined) {
            const shots = shotLines(lab, options.specimen);
            printResult(options.json, { shots }, () => recordTable(shots));
            return;
          }
          const view = shotView(lab, shot);
          printResult(options.json, view, () =>
            [
              `${view.line.id}: specimen ${view.line.label} (${view.line.specimen}), ${view.line.multiple * 100} % on ${view.line.loading}, ${stateWords(view.line.state)}`,
              view.closed === null
                ? "open"
                : readingWords(view.closed.body.reading, view.closed.body.verdict),
              ...view.provenance.map((one) => `  ${one.what}: ${one.value} (${one.from})`),
            ].join("\n"),
          );
        });
      }),
    );
}

function recordTable(shots: ReturnType<typeof shotLines>): string {
  return textTable([
    ["shot", "label", "rated A", "percent", "loading", "state", "time", "limit", "verdict", "opened"],
    ...shots.map((line) => [
      line.id,
      line.label,
      String(line.ratedAmps),
      String(Math.round(line.multiple * 100)),
      line.loading,
      stateWords(line.state),
      line.seconds !== null
        ? formatSeconds(line.seconds)
        : line.heldSeconds !== null
          ? `> ${formatSeconds(line.heldSeconds)}`
          : "",
      line.limitSeconds === null ? "" : formatSeconds(line.limitSeconds),
      resultWords(line.result, line.statement),
      line.openedAt,
    ]),
  ]);
}
