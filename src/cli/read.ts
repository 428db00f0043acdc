import type { Command } from "commander";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { readSamplesFile, type SamplesContext } from "../lab/read-samples-file.ts";
import { integerOption, numberOption } from "./option-values.ts";
import { printResult, runCommand, textTable } from "./output.ts";

/** `asfound read`: the reading of a shot from a CSV file of times and currents. */
export function addRead(program: Command): void {
  program
    .command("read")
    .description("read a shot from a CSV file with the columns t_s,amps")
    .requiredOption("--samples <file>", "CSV file: t_s in seconds, amps in true RMS amperes")
    .requiredOption("--rated <amps>", "rated current", numberOption(1e-6, 1e6, "A"))
    .requiredOption("--target <amps>", "current that the shot was to hold", numberOption(1e-6, 1e6, "A"))
    .option("--poles <n>", "number of poles", integerOption(1, 3))
    .option(
      "--u-current-percent <x>",
      "standard uncertainty of the current, in percent",
      numberOption(0, 99, "%"),
    )
    .option("--u-timer-seconds <y>", "standard uncertainty of a time, in seconds", numberOption(0, 1e6, "s"))
    .option(
      "--pickup <m>",
      "pick-up of the model that gives the sensitivity to current",
      numberOption(1e-6, 100, "times rating"),
    )
    .option("--json", "print one JSON document", false)
    .action((options: SamplesContext & { samples: string; json: boolean }) =>
      runCommand(options.json, () => {
        const reading = readSamplesFile(options.samples, options);
        printResult(options.json, reading, () =>
          [
            reading.seconds === null
              ? `${reading.outcome}: no trip in ${formatSeconds(reading.heldSeconds)}`
              : `tripped after ${formatSeconds(reading.seconds)}`,
            ...(reading.interval === null
              ? []
              : [`  between ${reading.interval.lower} s and ${reading.interval.upper} s`]),
            `  effective current ${formatAmps(reading.effectiveAmps)} (${reading.multiple.toFixed(4)} times rating)`,
            ...(reading.flags.length === 0 ? [] : [`  flags: ${reading.flags.join(", ")}`]),
            ...(reading.uncertainty === null
              ? []
              : [
                  `  standard uncertainty ${reading.uncertainty.standard} s, expanded ${reading.uncertainty.expanded} s (k = ${reading.uncertainty.k})`,
                  textTable([
                    ["contribution", "value", "unit", "distribution", "divisor", "s per unit", "s", "share"],
                    ...reading.uncertainty.budget.map((line) => [
                      line.contribution,
                      line.value.toPrecision(4),
                      line.unit,
                      line.distribution,
                      line.divisor.toPrecision(4),
                      line.sensitivity.toPrecision(4),
                      line.seconds.toPrecision(4),
                      line.share.toFixed(4),
                    ]),
                  ]),
                  `  model: ${reading.uncertainty.model}`,
                ]),
          ].join("\n"),
        );
      }),
    );
}
