import type { Command } from "commander";
import type { Loading } from "../core/specimen/specimen.ts";
import { BenchDesk } from "../lab/bench-desk.ts";
import { cautions } from "../lab/cautions.ts";
import { defaultLimitSet } from "../lab/limit-library.ts";
import { openLab } from "../lab/open-lab.ts";
import { readJsonFile } from "../lab/read-json-file.ts";
import { checkSpecimenFits, findOrReceiveSpecimen, parseSpecimen } from "../lab/receive-specimen.ts";
import { choiceOption, loadings, numberOption } from "./option-values.ts";
import { note, printResult, runCommand } from "./output.ts";
import { addRuleOptions, decisionRuleOf, type RuleOptions } from "./rule-options.ts";
import { runWithProgress, shotDocument } from "./run-with-progress.ts";
import { readingWords } from "./words.ts";

type Options = {
  link: string;
  data: string;
  specimen: string;
  point: number;
  loading?: Loading;
  set: string;
  band?: string;
  json: boolean;
} & RuleOptions;

/** `asfound shoot`: one shot on one specimen, without a browser. */
export function addShoot(program: Command): void {
  const command = program
    .command("shoot")
    .description("run one test point on one specimen")
    .requiredOption(
      "--link <address>",
      "serial:PATH[?baud=N] | tcp:HOST:PORT | emulated[?breaker=NAME&speed=N&seed=N]",
    )
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <file>", "JSON file with at least label, ratedAmps, poles and volts")
    .requiredOption(
      "--point <multiple>",
      "multiple of rated current, such as 2",
      numberOption(0.01, 100, "times rating"),
    )
    .option("--loading <which>", "pole-1 | pole-2 | pole-3 | all", choiceOption(loadings))
    .option("--set <name>", "limit set", defaultLimitSet)
    .option("--band <id>", "band of the lab; left out, one whose codes are the specimen's")
    .option("--json", "print one JSON document", false);
  addRuleOptions(command).action((options: Options) =>
    runCommand(options.json, async () => {
      const details = parseSpecimen(readJsonFile(options.specimen), options.specimen);
      const lab = openLab(options.data);
      const desk = new BenchDesk(lab, options.link);
      try {
        // Everything that can be refused is refused before the specimen is written down.
        const request = {
          limitSet: options.set,
          multiple: options.point,
          loading: options.loading,
          // A rule that was not named leaves the one that is locked for the specimen.
          rule: command.getOptionValueSource("rule") === "cli" ? decisionRuleOf(options) : undefined,
          band: options.band,
        };
        checkSpecimenFits(lab, details);
        await desk.connect(options.link);
        desk.check(details, request);
        for (const caution of cautions) note(`Caution: ${caution}`);
        const specimen = findOrReceiveSpecimen(lab, details);
        const finished = await runWithProgress(desk, { specimen, ...request }, details.label);
        printResult(options.json, shotDocument(finished), () =>
          readingWords(finished.closed.reading, finished.closed.verdict),
        );
      } finally {
        await desk.close();
        lab.store.close();
      }
    }),
  );
}
