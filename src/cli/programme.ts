import type { Command } from "commander";
import { programmeFor } from "../core/limits/applicable-rows.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { BenchDesk } from "../lab/bench-desk.ts";
import { cautions } from "../lab/cautions.ts";
import { defaultLimitSet } from "../lab/limit-library.ts";
import { openLab } from "../lab/open-lab.ts";
import { loadingWords } from "../lab/programme-view.ts";
import { readJsonFile } from "../lab/read-json-file.ts";
import { checkSpecimenFits, findOrReceiveSpecimen, parseSpecimen } from "../lab/receive-specimen.ts";
import { note, printResult, runCommand } from "./output.ts";
import { addRuleOptions, decisionRuleOf, type RuleOptions } from "./rule-options.ts";
import { runWithProgress, shotDocument } from "./run-with-progress.ts";
import { readingWords } from "./words.ts";

type Options = { link: string; data: string; specimen: string; set: string; json: boolean } & RuleOptions;

/** `asfound programme`: every test point that applies to a specimen, in order. */
export function addProgramme(program: Command): void {
  const command = program
    .command("programme")
    .description("run every test point that applies to a specimen, in order")
    .requiredOption(
      "--link <address>",
      "serial:PATH[?baud=N] | tcp:HOST:PORT | emulated[?breaker=NAME&speed=N&seed=N]",
    )
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <file>", "JSON file with at least label, ratedAmps, poles and volts")
    .option("--set <name>", "limit set", defaultLimitSet)
    .option("--json", "print one JSON document", false);
  addRuleOptions(command).action((options: Options) =>
    runCommand(options.json, async () => {
      const details = parseSpecimen(readJsonFile(options.specimen), options.specimen);
      const lab = openLab(options.data);
      const desk = new BenchDesk(lab, options.link);
      try {
        checkSpecimenFits(lab, details);
        const points = programmeFor(lab.limits.get(options.set), details);
        const rule = decisionRuleOf(options);
        const requests = points.map((point) => ({
          limitSet: options.set,
          multiple: point.row.multiple,
          loading: point.loading,
          rule,
        }));
        await desk.connect(options.link);
        // What can be refused is refused before the first current, for every test point.
        for (const request of requests) desk.check(details, request);
        for (const caution of cautions) note(`Caution: ${caution}`);
        const specimen = findOrReceiveSpecimen(lab, details);
        const shots = [];
        for (const [index, point] of points.entries()) {
          const words = `${formatMultiple(point.row.multiple)}, ${loadingWords(point.loading)}`;
          const finished = await runWithProgress(
            desk,
            { specimen, limitSet: options.set, multiple: point.row.multiple, loading: point.loading, rule },
            `${index + 1} of ${points.length}: ${words}`,
          );
          shots.push(shotDocument(finished));
          note(`${words}\n${readingWords(finished.closed.reading, finished.closed.verdict)}`);
          if (finished.closed.hostEnd !== "limit" && finished.closed.reading.outcome === "interrupted") break;
        }
        printResult(
          options.json,
          { specimen, planned: points.length, shots },
          () => `${shots.length} of ${points.length} test points run.`,
        );
      } finally {
        await desk.close();
        lab.store.close();
      }
    }),
  );
}
