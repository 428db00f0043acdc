import type { Command } from "commander";
import { printResult, runCommand } from "./output.ts";
import { writingTo } from "./with-lab.ts";

/** `asfound rebuild`: drops every table that derives from the ledger and makes it anew. */
export function addRebuild(program: Command): void {
  program
    .command("rebuild")
    .description("drop the projections and rebuild them from the ledger")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: { data: string; json: boolean }) =>
      runCommand(json, () => {
        writingTo(data, (lab) => {
          lab.store.rebuildProjections();
          const rebuilt = {
            specimens: lab.store.records.specimens().length,
            shots: lab.store.records.shots().length,
          };
          printResult(
            json,
            rebuilt,
            () => `Rebuilt: ${rebuilt.specimens} specimens, ${rebuilt.shots} shots.`,
          );
        });
      }),
    );
}
