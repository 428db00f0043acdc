import type { Command } from "commander";
import type { RateInterval, RatesQuery, RatesView } from "../contract/rates.ts";
import {
  clusterings,
  countedStates,
  failureKinds,
  stratumAttributes,
  takenShots,
} from "../contract/rates.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { ratesFigure } from "../exhibit/rates-figure.ts";
import { ratesView } from "../lab/rates.ts";
import { ratesCsv } from "../lab/rates-csv.ts";
import { readRateQuestion } from "../lab/rates-question.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom } from "./with-lab.ts";
import { writeFigure } from "./write-figure.ts";

/** The options of a command that counts shots, as words still to be read. */
export interface CountingOptions {
  by?: string[];
  point?: string[];
  state?: string;
  failure?: string;
  loading?: string;
  take?: string;
  clusters?: string;
  confidence?: string;
  only?: string[];
}

/** Adds the options that say which shots count. */
export function withCountingOptions(command: Command): Command {
  return command
    .option("--by <attribute...>", `divide by: ${Object.keys(stratumAttributes).join(", ")}`)
    .option("--point <multiple...>", "only shots at these multiples of rated current")
    .option("--state <state>", countedStates.join(" | "))
    .option("--failure <kind>", failureKinds.join(" | "))
    .option("--loading <poles>", "pole-1 | pole-2 | pole-3 | all")
    .option("--take <which>", `of several shots of a specimen: ${takenShots.join(" | ")}`)
    .option("--clusters <by>", clusterings.join(" | "))
    .option("--confidence <c>", "two-sided confidence level; 0.95 where not given")
    .option("--only <attribute=value...>", "only specimens with these values");
}

/** The options as a question still in words. */
export function countingQuery({ by, point, only, ...rest }: CountingOptions): RatesQuery {
  const { state, failure, loading, take, clusters, confidence } = rest;
  return Object.fromEntries(
    Object.entries({
      by: by?.join(","),
      point: point?.join(","),
      only: only?.join(";"),
      ...{ state, failure, loading, take, clusters, confidence },
    }).filter(([, value]) => value !== undefined),
  );
}

/** `asfound rates`: failure rates of the lab's own specimens, k of n with bounds. */
export function addRates(program: Command): void {
  withCountingOptions(
    program
      .command("rates")
      .description("failure rates of the lab's specimens: k of n with bounds, by stratum")
      .requiredOption("--data <dir>", "data directory"),
  )
    .option("--figure <file.svg>", "write a picture of the rates")
    .option("--csv", "print the rows as CSV", false)
    .option("--json", "print one JSON document", false)
    .action((options: CountingOptions & { data: string; figure?: string; csv: boolean; json: boolean }) =>
      runCommand(options.json, () => {
        const question = readRateQuestion(countingQuery(options));
        readingFrom(options.data, (lab) => {
          const view = ratesView(lab, question);
          if (options.figure !== undefined) writeFigure(options.figure, ratesFigure(view.figure));
          if (options.csv) process.stdout.write(ratesCsv(view));
          else printResult(options.json, view, () => ratesText(view));
        });
      }),
    );
}

const rate = (value: number | null) => (value === null ? "not estimable" : formatPercent(value));
const range = (interval: RateInterval | null) =>
  interval === null
    ? "not estimable"
    : `${formatPercent(interval.lower)} to ${formatPercent(interval.upper)}`;

function ratesText(view: RatesView): string {
  const clustered = view.question.clusters !== "none";
  const rows = view.question.by.length === 0 ? view.rows : [...view.rows, view.total];
  return [
    view.criterion,
    "",
    textTable([
      [
        ...["stratum", "failed", "of", "rate", "exact", "Wilson"],
        ...(clustered ? ["allowing for clusters", "clusters", "design effect"] : []),
        ...["undetermined", "excluded", "lowest", "highest"],
      ],
      ...rows.map((row) => [
        ...[row.label, String(row.k), String(row.n), rate(row.estimate)],
        ...[range(row.intervals.clopperPearson), range(row.intervals.wilson)],
        ...(clustered
          ? [
              range(row.intervals.clusterRobust),
              String(row.clusters ?? ""),
              row.designEffect === null ? "not estimable" : row.designEffect.toFixed(2),
            ]
          : []),
        ...[String(row.undetermined), String(row.excluded), rate(row.lowest), rate(row.highest)],
      ]),
    ]),
    "",
    ...view.compared.map(({ words }) => words),
    `Specimens: ${view.specimens.received} received, ${view.specimens.counted} counted, ${view.specimens.notShotSo} not shot so.`,
    ...view.notes,
    view.caution,
  ].join("\n");
}
