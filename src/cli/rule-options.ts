import type { Command } from "commander";
import type { DecisionRule } from "../core/limits/verdict.ts";
import { choiceOption, numberOption } from "./option-values.ts";

/** What `addRuleOptions` reads. */
export interface RuleOptions {
  rule: DecisionRule["kind"];
  r: number;
}

/** Adds `--rule` and `--r` to a command. */
export function addRuleOptions(command: Command): Command {
  return command
    .option(
      "--rule <name>",
      "decision rule: simple | guard | nonbinary",
      choiceOption(["simple", "guard", "nonbinary"] as const),
      "simple",
    )
    .option("--r <r>", "guard band over expanded uncertainty, w = r U", numberOption(0, 100, ""), 1);
}

/** The decision rule that the options name. */
export const decisionRuleOf = ({ rule, r }: RuleOptions): DecisionRule =>
  rule === "simple" ? { kind: "simple" } : { kind: rule, r };
