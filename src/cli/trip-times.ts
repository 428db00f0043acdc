import type { Command } from "commander";
import { marginsFigure } from "../exhibit/margins-figure.ts";
import { survivalFigure } from "../exhibit/survival-figure.ts";
import { readRateQuestion } from "../lab/rates-question.ts";
import { marginsView, tripTimesView } from "../lab/trip-times.ts";
import { printResult, runCommand } from "./output.ts";
import { type CountingOptions, countingQuery, withCountingOptions } from "./rates.ts";
import { readingFrom } from "./with-lab.ts";
import { writeFigure } from "./write-figure.ts";

/** `asfound trip-times`: times to trip with shots that ended without a trip as censored. */
export function addTripTimes(program: Command): void {
  withCountingOptions(
    program
      .command("trip-times")
      .description("times to trip by stratum: median with bounds, log-rank test")
      .requiredOption("--data <dir>", "data directory"),
  )
    .option("--figure <file.svg>", "write the curves with their bounds")
    .option("--margins <file.svg>", "write how far each specimen stayed from its limit")
    .option("--json", "print one JSON document", false)
    .action((options: CountingOptions & { data: string; figure?: string; margins?: string; json: boolean }) =>
      runCommand(options.json, () => {
        const question = readRateQuestion(countingQuery(options));
        readingFrom(options.data, (lab) => {
          const view = tripTimesView(lab, question);
          if (options.figure !== undefined) writeFigure(options.figure, survivalFigure(view.figure));
          if (options.margins !== undefined)
            writeFigure(options.margins, marginsFigure(marginsView(lab, question).figure));
          printResult(options.json, view, () =>
            [
              view.criterion,
              ...view.groups.map(({ words }) => words),
              ...(view.logRank === null ? [] : [view.logRank.words]),
              ...view.figure.notes,
            ].join("\n"),
          );
        });
      }),
    );
}
