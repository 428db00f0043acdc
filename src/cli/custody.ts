import { type Command, InvalidArgumentError } from "commander";
import { type CustodyChain, custodyEvents, sealConditions } from "../contract/custody-schema.ts";
import type { CustodyEvent } from "../contract/ledger-entries.ts";
import { addCustodyEvent, custodyChain } from "../lab/custody.ts";
import { choiceOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { addSubjectOptions, type SubjectOptions, subjectOfOptions } from "./subject-options.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Seal = CustodyEvent["seals"][number];
type AddOptions = SubjectOptions & {
  data: string;
  event: CustodyEvent["event"];
  from: string;
  to: string;
  at: string;
  until?: string;
  seal: Seal[];
  condition: string;
  note: string;
  by: string;
  json: boolean;
};

function sealOption(text: string, before: Seal[]): Seal[] {
  const place = text.lastIndexOf("=");
  const condition = sealConditions.find((one) => one === text.slice(place + 1));
  if (place < 1 || condition === undefined)
    throw new InvalidArgumentError(
      `Found "${text}"; accepted is NUMBER=CONDITION, with ${sealConditions.join(", ")}.`,
    );
  return [...before, { number: text.slice(0, place), condition }];
}

/** `asfound custody add | show`: the chain of custody of a specimen, or of all specimens of a job. */
export function addCustody(program: Command): void {
  const command = program.command("custody").description("chain of custody of a specimen or job");
  addSubjectOptions(
    command
      .command("add")
      .description("record one event, as observed")
      .requiredOption("--data <dir>", "data directory"),
  )
    .requiredOption("--event <what>", custodyEvents.join(" | "), choiceOption(custodyEvents))
    .requiredOption("--from <whom>", "who or where it came from")
    .requiredOption("--to <whom>", "who or where it went to")
    .requiredOption("--at <moment>", "when it was observed, such as 2026-06-15T09:30:00Z")
    .option("--until <moment>", "when it ended, for what lasted")
    .option(
      "--seal <number=condition>",
      `seal and its condition: ${sealConditions.join(" | ")}; may be repeated`,
      sealOption,
      [],
    )
    .option("--condition <text>", "condition of the package or specimen", "")
    .option("--note <text>", "note", "")
    .requiredOption("--by <name>", "who makes this entry")
    .option("--json", "print one JSON document", false)
    .action((options: AddOptions) =>
      runCommand(options.json, () => {
        const { event, from, to, condition, note, by } = options;
        const input = {
          ...{ about: subjectOfOptions(options), event, from, to, observedAt: options.at },
          ...(options.until === undefined ? {} : { observedUntil: options.until }),
          ...{ seals: options.seal, condition, note, by },
        };
        const { line, chain } = writingTo(options.data, (lab) => {
          const added = addCustodyEvent(lab, input, "custody event");
          return { line: added, chain: custodyChain(lab, input.about) };
        });
        printResult(options.json, line, () => chainWords(chain).join("\n"));
      }),
    );
  addSubjectOptions(
    command
      .command("show")
      .description("the events in the order in which they were observed; gaps and overlaps in words")
      .requiredOption("--data <dir>", "data directory"),
  )
    .option("--json", "print one JSON document", false)
    .action((options: SubjectOptions & { data: string; json: boolean }) =>
      runCommand(options.json, () => {
        const about = subjectOfOptions(options);
        const chain = readingFrom(options.data, (lab) => custodyChain(lab, about));
        printResult(options.json, chain, () => chainWords(chain).join("\n"));
      }),
    );
}

function chainWords({ about, holder, lines, remarks }: CustodyChain): string[] {
  return [
    `Custody of ${about.kind} ${about.id}: ${holder === null ? "nothing recorded" : `now with ${holder}`}`,
    ...lines.map(({ sequence, enteredAt, by, amendments, event }) => {
      const until = event.observedUntil === null ? "" : ` to ${event.observedUntil}`;
      const seals = event.seals.map((seal) => `seal ${seal.number} ${seal.condition}`);
      const more = [...seals, event.condition, event.note].filter((text) => text !== "");
      const amended = amendments === 0 ? "" : `, amended ${amendments} times`;
      return `  ${event.observedAt}${until}  ${event.event}: ${event.from} -> ${event.to}${more.length === 0 ? "" : ` (${more.join("; ")})`}  [entry ${sequence}, by ${by} at ${enteredAt}${amended}]`;
    }),
    ...remarks.map((remark) => `  ! ${remark.kind}: ${remark.words}`),
  ];
}
