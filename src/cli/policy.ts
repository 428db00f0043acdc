import type { Command } from "commander";
import type { LabPolicy } from "../contract/ledger-entries.ts";
import { openLab, openLabForReading } from "../lab/open-lab.ts";
import { policyOf, policyWords, setPolicy } from "../lab/policy.ts";
import { choiceOption, numberOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";

type Options = {
  data: string;
  pastDue?: LabPolicy["pastDueCalibration"];
  precedence?: LabPolicy["precedence"];
  notCold?: LabPolicy["notCold"];
  coolingTau?: number;
  json: boolean;
};

const blockOrFlag = choiceOption(["block", "flag"] as const);

/** `asfound policy`: what the lab has decided for all its work; with options, decided anew. */
export function addPolicy(program: Command): void {
  program
    .command("policy")
    .description("show what the lab has decided for all its work, or decide anew")
    .requiredOption("--data <dir>", "data directory")
    .option("--past-due <what>", "block | flag shots on a rig whose calibration is past due", blockOrFlag)
    .option(
      "--precedence <which>",
      '"band first" | "table first", where a band and a table both apply',
      choiceOption(["band first", "table first"] as const),
    )
    .option(
      "--not-cold <what>",
      "block | flag shots on a specimen that is not cold by the model",
      blockOrFlag,
    )
    .option("--cooling-tau <s>", "cooling time constant of specimens", numberOption(1e-3, 1e6, "s"))
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        const { pastDue, precedence, notCold, coolingTau } = options;
        const change: Partial<LabPolicy> = {
          ...(pastDue === undefined ? {} : { pastDueCalibration: pastDue }),
          ...(precedence === undefined ? {} : { precedence }),
          ...(notCold === undefined ? {} : { notCold }),
          ...(coolingTau === undefined ? {} : { coolingTauSeconds: coolingTau }),
        };
        const changes = Object.keys(change).length > 0;
        const lab = changes ? openLab(options.data) : openLabForReading(options.data);
        try {
          const policy = changes ? setPolicy(lab, change) : policyOf(lab);
          printResult(options.json, policy, () => policyWords(policy).join("\n"));
        } finally {
          lab.store.close();
        }
      }),
    );
}
