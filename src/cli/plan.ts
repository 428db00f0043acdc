import { Command } from "commander";
import { type PlanKind, planKinds } from "../contract/plans.ts";
import { planTests } from "../lab/plan-tests.ts";
import { printResult, runCommand } from "./output.ts";

/** `asfound plan KIND`: how many to test. */
export function addPlan(program: Command): void {
  const plan = program.command("plan").description("how many to test");
  for (const kind of Object.keys(planKinds) as PlanKind[]) {
    const { about, inputs } = planKinds[kind];
    const command = new Command(kind).description(about).copyInheritedSettings(plan);
    for (const [name, words] of Object.entries(inputs)) command.requiredOption(`--${name} <x>`, words);
    command
      .option("--json", "print one JSON document", false)
      .action(({ json, ...options }: { json: boolean } & Record<string, string>) =>
        runCommand(json, () => {
          const given = Object.fromEntries(
            Object.keys(inputs).map((name) => [name, options[optionKey(name)]]),
          );
          const view = planTests(kind, given);
          printResult(json, view, () => `${view.sentence}\n${view.presumes}`);
        }),
      );
    plan.addCommand(command);
  }
}

/** `half-width` is `halfWidth` among the options. */
const optionKey = (name: string): string =>
  name.replaceAll(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
