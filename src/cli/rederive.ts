import type { Command } from "commander";
import { rederive } from "../lab/rederive.ts";
import { printResult, runCommand } from "./output.ts";
import { readingFrom } from "./with-lab.ts";

/** `asfound rederive`: derives every reading and verdict again from the stored samples; exit 1 on a difference. */
export function addRederive(program: Command): void {
  program
    .command("rederive")
    .description("derive every reading and verdict again from the stored samples and compare")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: { data: string; json: boolean }) =>
      runCommand(json, () => {
        readingFrom(data, (lab) => {
          const found = rederive(lab);
          printResult(json, found, () =>
            [
              `${found.shots} shots, ${found.same} the same, ${found.different.length} different.`,
              ...found.different.map((one) => `  ${one.shot}: ${one.what.join(" and ")} differ`),
            ].join("\n"),
          );
          if (found.different.length > 0) process.exitCode = 1;
        });
      }),
    );
}
