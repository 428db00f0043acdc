import type { Command } from "commander";
import type { NextView } from "../contract/programme.ts";
import { nextSteps } from "../lab/next-steps.ts";
import { printResult, runCommand } from "./output.ts";
import { readingFrom } from "./with-lab.ts";

/** `asfound next`: the next step of every specimen with an unfinished programme, and whether it may be taken now. */
export function addNext(program: Command): void {
  program
    .command("next")
    .description("the next step of every unfinished programme, and how long it must still rest")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action((options: { data: string; json: boolean }) =>
      runCommand(options.json, () => {
        readingFrom(options.data, (lab) => {
          const view = nextSteps(lab, null);
          printResult(options.json, view, () => nextWords(view));
        });
      }),
    );
}

function nextWords({ specimens }: NextView): string {
  if (specimens.length === 0) return "No specimen has an unfinished programme.";
  return specimens
    .flatMap((one) => [
      `${one.allowed ? "now " : "wait"}  ${one.label} (${one.specimen}), step ${one.done + 1} of ${one.planned}: ${one.step.words}`,
      `      ${one.words}`,
      ...one.suspicions.map((suspicion) => `      ${suspicion.words}`),
    ])
    .join("\n");
}
