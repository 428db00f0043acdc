import type { Command } from "commander";
import type { AmendedEntry } from "../contract/amendment-schema.ts";
import { amendEntry, amendmentView, amendmentViews } from "../lab/amendments.ts";
import { InputError } from "../lab/input-error.ts";
import { integerOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type AddOptions = {
  data: string;
  entry: number;
  path: string;
  before?: string;
  after?: string;
  why: string;
  by: string;
  json: boolean;
};
const entryNumber = integerOption(1, Number.MAX_SAFE_INTEGER);

function jsonValue(option: string, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new InputError(`${option}: found ${text}; accepted is JSON: a text in double quotes, a number, …`);
  }
}

/** `asfound amend add | show | list`: corrects one field of an earlier entry; what was written first stays. */
export function addAmend(program: Command): void {
  const command = program.command("amend").description("correct a field of an earlier entry of the ledger");
  command
    .command("add")
    .description("make an amendment")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--entry <sequence>", "entry that is amended", entryNumber)
    .requiredOption("--path <pointer>", "JSON pointer into its body, such as /details/condition")
    .option("--before <json>", "value that stands now; left out where the field is not there")
    .option("--after <json>", "value that is right; left out to take the field away")
    .requiredOption("--why <text>", "why it is amended")
    .requiredOption("--by <name>", "who makes this entry")
    .option("--json", "print one JSON document", false)
    .action((options: AddOptions) =>
      runCommand(options.json, () => {
        const { entry, path, before, after, why, by } = options;
        const input = {
          ...{ entry, path, why, by },
          ...(before === undefined ? {} : { before: jsonValue("--before", before) }),
          ...(after === undefined ? {} : { after: jsonValue("--after", after) }),
        };
        const view = writingTo(options.data, (lab) => amendEntry(lab, input, "amendment"));
        printResult(options.json, view, () => entryWords(view).join("\n"));
      }),
    );
  command
    .command("show")
    .description("one entry as newest amended, with its history")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--entry <sequence>", "sequence of the entry", entryNumber)
    .option("--json", "print one JSON document", false)
    .action(({ data, entry, json }: { data: string; entry: number; json: boolean }) =>
      runCommand(json, () => {
        const view = readingFrom(data, (lab) => amendmentView(lab, entry));
        printResult(json, view, () => entryWords(view).join("\n"));
      }),
    );
  command
    .command("list")
    .description("every amended entry")
    .requiredOption("--data <dir>", "data directory")
    .option("--about <id>", "only of this specimen, shot or job")
    .option("--json", "print one JSON document", false)
    .action(({ data, about, json }: { data: string; about?: string; json: boolean }) =>
      runCommand(json, () => {
        const entries = readingFrom(data, (lab) => amendmentViews(lab, about));
        printResult(json, { entries }, () =>
          entries.length === 0 ? "Nothing was amended." : entries.flatMap(historyWords).join("\n"),
        );
      }),
    );
}

const shown = (value: unknown): string => (value === undefined ? "nothing" : JSON.stringify(value));

function historyWords({ sequence, kind, history }: AmendedEntry): string[] {
  return [
    `Entry ${sequence} (${kind}):`,
    ...history.map(
      ({ sequence: own, at, by, amendment }) =>
        `  ${amendment.path}: ${shown(amendment.before)} became ${shown(amendment.after)}: ${amendment.why} [entry ${own}, by ${by} at ${at}]`,
    ),
  ];
}

const entryWords = (view: AmendedEntry): string[] => [
  ...historyWords(view),
  `Now: ${JSON.stringify(view.now, null, 2)}`,
];
