import type { Command } from "commander";
import { resultText } from "../core/limits/result-marks.ts";
import {
  defaultInstantaneousSet,
  type HandInstantaneous,
  judgeInstantaneousByHand,
} from "../lab/judge-instantaneous-by-hand.ts";
import { loadLimitLibrary } from "../lab/limit-library.ts";
import { numberOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { addRuleOptions, decisionRuleOf, type RuleOptions } from "./rule-options.ts";

type Options = Omit<HandInstantaneous, "rule" | "settingAmps" | "lowEdgeAmps" | "highEdgeAmps"> &
  RuleOptions & { setting?: number; lowEdge?: number; highEdge?: number; json: boolean };

const amps = numberOption(0, 1e6, "A");

/** `asfound instantaneous`: the current of an instantaneous trip held against a tolerance on its setting. */
export function addInstantaneous(program: Command): void {
  const command = program
    .command("instantaneous")
    .description("hold the current of an instantaneous trip against the tolerance on its setting")
    .option("--set <name>", "limit set", defaultInstantaneousSet)
    .requiredOption("--row <id>", "row of the set: adjustable | non-adjustable | electronic")
    .option("--setting <amps>", "the nominal setting", amps)
    .option("--low-edge <amps>", "low edge of the published band", amps)
    .option("--high-edge <amps>", "high edge of the published band", amps)
    .option("--tripped-at <amps>", "it tripped at this current", amps)
    .option("--raised-to <amps>", "no trip up to this current", amps)
    .option("--u <amps>", "expanded uncertainty of the current", amps)
    .option("--k <k>", "coverage factor of --u", numberOption(1e-6, 100, ""), 2);
  addRuleOptions(command);
  command.option("--json", "print one JSON document", false).action((options: Options) =>
    runCommand(options.json, () => {
      const { setting, lowEdge, highEdge } = options;
      const verdict = judgeInstantaneousByHand(loadLimitLibrary(), {
        ...options,
        settingAmps: setting,
        lowEdgeAmps: lowEdge,
        highEdgeAmps: highEdge,
        rule: decisionRuleOf(options),
      });
      printResult(options.json, verdict, () =>
        [
          `${resultText(verdict.result)}: ${verdict.finding}`,
          ...verdict.reasons.map((reason) => `  ${reason}`),
          `  ${verdict.row.source.document}: ${verdict.row.source.standing}${verdict.row.source.doubtful ? ", doubtful" : ""}`,
        ].join("\n"),
      );
    }),
  );
}
