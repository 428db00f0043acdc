import type { Command } from "commander";
import { InputError } from "../lab/input-error.ts";
import { verifyData } from "../lab/verify-data.ts";
import { verifyPackage } from "../lab/verify-package.ts";
import { printResult, runCommand } from "./output.ts";

type Options = { data?: string; package?: string; key?: string; head?: string; json: boolean };

/** `asfound verify`: whether anything in a data directory or in a package was altered; exit 1 if so. */
export function addVerify(program: Command): void {
  program
    .command("verify")
    .description("check that nothing was altered in a data directory, or in a package made from one")
    .option(
      "--data <dir>",
      "data directory: chain, signatures, samples, photographs, time stamps, projections",
    )
    .option("--package <place>", "folder or zip of a package: files, records, proofs, samples and results")
    .option("--key <hex>", "with --package: the station's public key, as known from elsewhere")
    .option("--head <hash>", "head of the ledger, as known from elsewhere")
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        checkHex("key", options.key);
        checkHex("head", options.head);
        if (options.package !== undefined && options.data === undefined)
          checkPackage(options.package, options);
        else if (options.data !== undefined && options.package === undefined)
          checkData(options.data, options);
        else throw new InputError("accepted is one of --data DIR and --package PLACE");
      }),
    );
}

function checkHex(option: string, text: string | undefined): void {
  if (text !== undefined && !/^[0-9a-f]{64}$/.test(text))
    throw new InputError(`--${option}: found "${text}"; accepted are 64 lower-case hexadecimal digits`);
}

function checkData(data: string, { head, json, key }: Options): void {
  if (key !== undefined) throw new InputError("--key belongs to --package");
  const found = verifyData(data, head === undefined ? {} : { knownHead: head });
  printResult(json, found, () =>
    found.ok
      ? `Nothing was altered: ${found.entries} entries, head ${found.head}.`
      : ["Altered or damaged:", ...found.problems.map((problem) => `  ${problem}`)].join("\n"),
  );
  if (!found.ok) process.exitCode = 1;
}

function checkPackage(place: string, { key, head, json }: Options): void {
  const found = verifyPackage(place, {
    ...(key === undefined ? {} : { key }),
    ...(head === undefined ? {} : { head }),
  });
  printResult(json, found, () =>
    found.ok
      ? [
          `Nothing was altered: ${found.records} records, ${found.derived} shots derived again.`,
          `Signed by station ${found.station}, key ${found.publicKey}${key === undefined ? ": compare it with a copy given away earlier" : ""}.`,
          `Head ${found.head}.`,
        ].join("\n")
      : ["Altered or damaged:", ...found.problems.map((problem) => `  ${problem}`)].join("\n"),
  );
  if (!found.ok) process.exitCode = 1;
}
