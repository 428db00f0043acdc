import type { Command } from "commander";
import type { ReviewSubject } from "../contract/ledger-entries.ts";
import type { ReviewView } from "../contract/review-schema.ts";
import { InputError } from "../lab/input-error.ts";
import { releaseRecord, reviewRecord, reviewView } from "../lab/reviews.ts";
import { choiceOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Options = { data: string; specimen?: string; shot?: string; json: boolean };
type Acting = Options & { note: string; by: string };

function aboutOf({ specimen, shot }: Options): ReviewSubject {
  if (specimen !== undefined && shot === undefined) return { kind: "specimen", id: specimen };
  if (shot !== undefined && specimen === undefined) return { kind: "shot", id: shot };
  throw new InputError("accepted is one of --specimen ID and --shot ID");
}

const withRecord = (command: Command): Command =>
  command
    .requiredOption("--data <dir>", "data directory")
    .option("--specimen <id>", "the record of this specimen")
    .option("--shot <id>", "the record of this shot, instead of a specimen");

/** `asfound review add | release | show`: a second person checks a record and gives it out. */
export function addReview(program: Command): void {
  const command = program.command("review").description("review and release of a record by a second person");
  withRecord(command.command("add").description("record what a review found"))
    .requiredOption(
      "--finding <what>",
      "accepted | returned",
      choiceOption(["accepted", "returned"] as const),
    )
    .option("--note <text>", "what was checked, or what is to be mended", "")
    .requiredOption("--by <name>", "who reviewed it: not who made it")
    .option("--json", "print one JSON document", false)
    .action((options: Acting & { finding: string }) =>
      runCommand(options.json, () => {
        const { finding, note, by } = options;
        const input = { about: aboutOf(options), finding, note, by };
        const view = writingTo(options.data, (lab) => reviewRecord(lab, input, "review"));
        printResult(options.json, view, () => reviewWords(view).join("\n"));
      }),
    );
  withRecord(command.command("release").description("give out a reviewed record as its next issue"))
    .option("--note <text>", "note", "")
    .requiredOption("--by <name>", "who releases it: not who made it")
    .option("--json", "print one JSON document", false)
    .action((options: Acting) =>
      runCommand(options.json, () => {
        const { note, by } = options;
        const input = { about: aboutOf(options), note, by };
        const view = writingTo(options.data, (lab) => releaseRecord(lab, input, "release"));
        printResult(options.json, view, () => reviewWords(view).join("\n"));
      }),
    );
  withRecord(command.command("show").description("where a record stands"))
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        const about = aboutOf(options);
        const view = readingFrom(options.data, (lab) => reviewView(lab, about));
        printResult(options.json, view, () => reviewWords(view).join("\n"));
      }),
    );
}

function reviewWords({ about, state, words, madeBy, reviews, issues, since }: ReviewView): string[] {
  return [
    `Record of ${about.kind} ${about.id}: ${state}. ${words}`,
    `  made by ${madeBy.join(", ")}`,
    ...reviews.map(
      ({ sequence, at, by, review }) =>
        `  ${review.finding} by ${by} at ${at}, entry ${sequence}${review.note === "" ? "" : `: ${review.note}`}`,
    ),
    ...issues.map((issue) => `  ${issue.words}`),
    ...(since.length === 0 ? [] : [`  entries since the newest release: ${since.join(", ")}`]),
  ];
}
