import type { Command } from "commander";
import type { Verdict } from "../core/limits/verdict.ts";
import { type HandJudgement, judgeByHand } from "../lab/judge-by-hand.ts";
import { defaultLimitSet, loadLimitLibrary } from "../lab/limit-library.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { choiceOption, integerOption, loadings, numberOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { addRuleOptions } from "./rule-options.ts";
import { resultWords } from "./words.ts";

const seconds = numberOption(0, 1e9, "s");

/** `asfound judge`: one time held against a row of a limit set, or against limits entered by hand. */
export function addJudge(program: Command): void {
  const command = program
    .command("judge")
    .description("hold one time against a limit and print the verdict")
    .option("--set <name>", `limit set (default ${defaultLimitSet})`)
    .option("--rated <amps>", "rated current", numberOption(1e-6, 6000, "A"))
    .option("--poles <n>", "number of poles", integerOption(1, 3))
    .option("--volts <volts>", "rated voltage, for sets with classes of voltage", numberOption(1, 1500, "V"))
    .option("--type <letter>", "type letter, for sets with types", choiceOption(["B", "C", "D"] as const))
    .option("--multiple <m>", "multiple of rated current", numberOption(0.01, 100, "times rating"))
    .option("--loading <which>", "pole-1 | pole-2 | pole-3 | all", choiceOption(loadings))
    .option("--seconds <s>", "it tripped after this time", seconds)
    .option("--held <s>", "it had not tripped in this time", seconds)
    .option("--u <seconds>", "expanded uncertainty of the time", seconds)
    .option("--k <k>", "coverage factor of --u", numberOption(1e-6, 100, ""), 2)
    .option("--data <dir>", "data directory, for the lab's confirmations and bands")
    .option("--band <id>", "band of the lab, in place of a set")
    .option("--amps <amps>", "current as measured, for a band", numberOption(1e-6, 1e6, "A"))
    .option("--limit-seconds <s>", "limit entered by hand, in place of a set", seconds)
    .option("--lower-seconds <s>", "lower limit entered by hand", seconds)
    .option(
      "--require <what>",
      "trip | hold, for limits entered by hand",
      choiceOption(["trip", "hold"] as const),
      "trip",
    )
    .option("--json", "print one JSON document", false);
  addRuleOptions(command).action((options: HandJudgement & { data?: string; json: boolean }) =>
    runCommand(options.json, () => {
      const verdict = judged(options);
      printResult(options.json, verdict, () =>
        [
          `${resultWords(verdict.result, verdict.statement)}: ${verdict.finding}`,
          ...(verdict.probability === null
            ? []
            : [
                `  probability of conformity ${verdict.probability.toFixed(6)} (JCGM 106; not the probability that it is safe)`,
              ]),
          ...verdict.reasons.map((reason) => `  ${reason}`),
        ].join("\n"),
      );
    }),
  );
}

function judged({ data, ...input }: HandJudgement & { data?: string }): Verdict {
  if (data === undefined) return judgeByHand(loadLimitLibrary(), input);
  const lab = openLabForReading(data);
  try {
    return judgeByHand(lab.limits, input, lab);
  } finally {
    lab.store.close();
  }
}
