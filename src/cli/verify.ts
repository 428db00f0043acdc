import type { Command } from "commander";
import { verifyStore } from "../store/verify-store.ts";
import { printResult, runCommand } from "./output.ts";

/** `asfound verify`: whether anything in a data directory was altered; exit 1 if so. */
export function addVerify(program: Command): void {
  program
    .command("verify")
    .description("check the chain, the signatures, the samples and the projections of a data directory")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: { data: string; json: boolean }) =>
      runCommand(json, () => {
        const found = verifyStore(data);
        printResult(json, found, () =>
          found.ok
            ? `Nothing was altered: ${found.entries} entries, head ${found.head}.`
            : ["Altered or damaged:", ...found.problems.map((problem) => `  ${problem}`)].join("\n"),
        );
        if (!found.ok) process.exitCode = 1;
      }),
    );
}
