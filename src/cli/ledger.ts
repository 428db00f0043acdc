import type { Command } from "commander";
import { exportLedger } from "../lab/export-ledger.ts";
import { integerOption } from "./option-values.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom } from "./with-lab.ts";

/** `asfound ledger`: the entries as stored, so that anyone can recompute their hashes. */
export function addLedger(program: Command): void {
  program
    .command("ledger")
    .description("print the entries of the ledger; with --json whole, as they are hashed and signed")
    .requiredOption("--data <dir>", "data directory")
    .option(
      "--since <sequence>",
      "only entries after this sequence number",
      integerOption(0, Number.MAX_SAFE_INTEGER),
      0,
    )
    .option("--json", "print one JSON document", false)
    .action(({ data, since, json }: { data: string; since: number; json: boolean }) =>
      runCommand(json, () => {
        readingFrom(data, (lab) => {
          const found = exportLedger(lab, since);
          printResult(json, found, () =>
            [
              textTable([
                ["entry", "at", "actor", "kind", "hash"],
                ...found.entries.map((one) => [String(one.sequence), one.at, one.actor, one.kind, one.hash]),
              ]),
              `station ${found.station}, key ${found.publicKey}`,
              `head ${found.head}`,
            ].join("\n"),
          );
        });
      }),
    );
}
