import { type Command, InvalidArgumentError } from "commander";
import type { GateView } from "../contract/gate-schema.ts";
import type { GateDemand, GateItem } from "../contract/ledger-entries.ts";
import { gateView, passGate } from "../lab/gate.ts";
import { gateItems, gateItemWords, policyOf, policyWords, setPolicy } from "../lab/policy.ts";
import { readJsonFile } from "../lab/read-json-file.ts";
import { printResult, runCommand } from "./output.ts";
import { withPerson } from "./subject-options.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Options = { data: string; specimen: string; json: boolean };

/** Several items of the gate, separated by commas. */
function itemsOption(text: string): GateItem[] {
  return text.split(",").map((part) => {
    const found = gateItems.find((item) => item === part.trim());
    if (found === undefined)
      throw new InvalidArgumentError(`Found "${part}"; accepted: ${gateItems.join(", ")}.`);
    return found;
  });
}

/** `asfound gate show | pass | decide`: what must be in place before the first current of a specimen. */
export function addGate(program: Command): void {
  const command = program.command("gate").description("what must be in place before the first current");
  command
    .command("show")
    .description("what is met, skipped and missing for a specimen")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <id>", "identifier of the specimen")
    .option("--json", "print one JSON document", false)
    .action(({ data, specimen, json }: Options) =>
      runCommand(json, () => {
        const view = readingFrom(data, (lab) => gateView(lab, specimen));
        printResult(json, view, () => gateWords(view).join("\n"));
      }),
    );
  command
    .command("pass")
    .description("record what is in place, and what is skipped with which reason")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <id>", "identifier of the specimen")
    .requiredOption(
      "--file <file>",
      "JSON: checks [{check, found}], parties [{party, notifiedOn, answer}], present, authority {by, on, words}, skipped [{item, reason}], note",
    )
    .requiredOption("--by <name>", "who makes this entry")
    .option("--json", "print one JSON document", false)
    .action(({ data, specimen, file, by, json }: Options & { file: string; by: string }) =>
      runCommand(json, () => {
        const input = withPerson(readJsonFile(file), by, file);
        const view = writingTo(data, (lab) => passGate(lab, specimen, input, file));
        printResult(json, view, () => gateWords(view).join("\n"));
      }),
    );
  command
    .command("decide")
    .description("decide what the lab demands of every specimen")
    .requiredOption("--data <dir>", "data directory")
    .option("--demand <items>", `of ${gateItems.join(",")}`, itemsOption, [])
    .option("--waive <items>", "no longer demanded", itemsOption, [])
    .option("--json", "print one JSON document", false)
    .action((options: { data: string; demand: GateItem[]; waive: GateItem[]; json: boolean }) =>
      runCommand(options.json, () => {
        const policy = writingTo(options.data, (lab) => {
          const gate = { ...policyOf(lab).gate };
          const decide = (items: readonly GateItem[], demand: GateDemand) => {
            for (const item of items) gate[item] = demand;
          };
          decide(options.waive, "not demanded");
          decide(options.demand, "demanded");
          return setPolicy(lab, { gate });
        });
        printResult(options.json, policy, () => policyWords(policy).join("\n"));
      }),
    );
}

function gateWords({ specimen, open, currentHasFlowed, lines }: GateView): string[] {
  const state = currentHasFlowed ? "current has flowed" : open ? "open" : "closed: no current yet";
  return [
    `Gate of ${specimen}: ${state}`,
    ...lines.map(({ item, state: own, words }) => `  ${gateItemWords(item)}: ${own}: ${words}`),
  ];
}
