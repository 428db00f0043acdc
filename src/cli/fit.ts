import type { Command } from "commander";
import type { FittedTripModel, ParameterBounds } from "../core/thermal/fit-trip-model.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { fitShotsFile } from "../lab/fit-shots-file.ts";
import { numberOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";

type Options = { shots: string; pickup?: number; level: number; json: boolean };

/** `asfound fit`: the trip model fitted to a CSV file of shots. */
export function addFit(program: Command): void {
  program
    .command("fit")
    .description("fit t = tau ln((m² - p²) / (m² - mt²)) with lognormal scatter to shots")
    .requiredOption("--shots <file>", "CSV file: multiple,seconds,kind[,seconds_upper][,preload]")
    .option(
      "--pickup <m>",
      "hold the pick-up at this multiple instead of fitting it",
      numberOption(1e-6, 100, ""),
    )
    .option("--level <p>", "confidence level of the bounds", numberOption(1e-6, 1 - 1e-6, ""), 0.95)
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        const fitted = fitShotsFile(options.shots, options);
        printResult(options.json, fitted, () =>
          fitted.estimable ? fittedWords(fitted) : `Not estimable. ${fitted.advice}`,
        );
      }),
    );
}

const between = ({ lower, upper }: ParameterBounds, show: (value: number) => string) =>
  `${lower === null ? "unbounded" : show(lower)} to ${upper === null ? "unbounded" : show(upper)}`;

function fittedWords(fitted: FittedTripModel): string {
  const percent = `${Number((fitted.bounds.level * 100).toFixed(4))} %`;
  return [
    `tau      ${formatSeconds(fitted.tau)}  (${percent}: ${between(fitted.bounds.tau, formatSeconds)})`,
    `pick-up  ${fitted.pickup.toFixed(4)} times rating  (${percent}: ${between(fitted.bounds.pickup, (value) => value.toFixed(4))})`,
    `sigma    ${fitted.sigma.toFixed(4)} of ln t`,
    `log-likelihood of ln t  ${fitted.logLikelihood.toFixed(6)}`,
    ...(fitted.advice === null ? [] : [`The data do not determine the model. ${fitted.advice}`]),
  ].join("\n");
}
