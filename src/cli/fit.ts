import type { Command } from "commander";
import type { SpecimenFitView } from "../contract/programme.ts";
import { pickupAtAmbient, usualTripRise } from "../core/thermal/ambient-correction.ts";
import type { FittedTripModel, ParameterBounds, UnfittedTripModel } from "../core/thermal/fit-trip-model.ts";
import type { ChosenTimeConstants } from "../core/thermal/two-time-constants.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { fitShotsFile } from "../lab/fit-shots-file.ts";
import { InputError } from "../lab/input-error.ts";
import { specimenFit } from "../lab/specimen-fit.ts";
import { numberOption } from "./option-values.ts";
import { printResult, runCommand } from "./output.ts";
import { readingFrom } from "./with-lab.ts";

type Options = {
  shots?: string;
  data?: string;
  specimen?: string;
  pickup?: number;
  level: number;
  ambient?: number;
  atAmbient?: number;
  tripRise: number;
  json: boolean;
};

/** `asfound fit`: the trip model fitted to a CSV file of shots, or to a specimen's own. */
export function addFit(program: Command): void {
  program
    .command("fit")
    .description("fit t = tau ln((m² - p²) / (m² - mt²)) with lognormal scatter to shots")
    .option("--shots <file>", "CSV file: multiple,seconds,kind[,seconds_upper][,preload]")
    .option("--data <dir>", "data directory, with --specimen in place of --shots")
    .option("--specimen <id>", "identifier of the specimen whose own shots are fitted")
    .option(
      "--pickup <m>",
      "hold the pick-up at this multiple instead of fitting it",
      numberOption(1e-6, 100, ""),
    )
    .option("--level <p>", "confidence level of the bounds", numberOption(1e-6, 1 - 1e-6, ""), 0.95)
    .option("--ambient <c>", "ambient of the shots, degrees Celsius", numberOption(-60, 150, "°C"))
    .option(
      "--at-ambient <c>",
      "with --ambient: give the pick-up at this ambient too",
      numberOption(-60, 150, "°C"),
    )
    .option(
      "--trip-rise <k>",
      "rise of the bimetal at its trip temperature over --ambient (the default is a working value of ours)",
      numberOption(1, 1000, "K"),
      usualTripRise,
    )
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, () => {
        const { shots, data, specimen, pickup, level } = options;
        if (shots !== undefined && data === undefined && specimen === undefined) {
          const fitted = fitShotsFile(shots, { pickup, level });
          const atAmbient = fitted.estimable ? ambientPickup(fitted.pickup, options) : null;
          printResult(options.json, atAmbient === null ? fitted : { ...fitted, atAmbient }, () =>
            [
              fitWords(fitted, fitted),
              ...(atAmbient === null
                ? []
                : [
                    `pick-up at ${atAmbient.celsius} °C: ${atAmbient.pickup.toFixed(4)} times rating, taking a trip rise of ${atAmbient.tripRise} K over ${atAmbient.referenceCelsius} °C; not for compensated or electronic trips`,
                  ]),
            ].join("\n"),
          );
          return;
        }
        if (shots !== undefined || data === undefined || specimen === undefined || pickup !== undefined) {
          throw new InputError(
            "accepted: --shots FILE [--pickup M], or --data DIR with --specimen ID and neither of those",
          );
        }
        readingFrom(data, (lab) => {
          const view = specimenFit(lab, specimen, level);
          printResult(options.json, view, () => specimenWords(view));
        });
      }),
    );
}

/** The pick-up at another ambient, where one was asked for. @throws InputError where one of the two ambients is missing */
function ambientPickup(pickup: number, { ambient, atAmbient, tripRise }: Options) {
  if (ambient === undefined && atAmbient === undefined) return null;
  if (ambient === undefined || atAmbient === undefined)
    throw new InputError("--ambient and --at-ambient go together");
  try {
    return {
      celsius: atAmbient,
      referenceCelsius: ambient,
      tripRise,
      pickup: pickupAtAmbient(pickup, ambient, atAmbient, tripRise),
    };
  } catch (error) {
    throw error instanceof RangeError ? new InputError(error.message) : error;
  }
}

const between = ({ lower, upper }: ParameterBounds, show: (value: number) => string) =>
  `${lower === null ? "unbounded" : show(lower)} to ${upper === null ? "unbounded" : show(upper)}`;

const fitWords = (fit: FittedTripModel | UnfittedTripModel, chosen: ChosenTimeConstants): string =>
  fit.estimable ? `${fittedWords(fit)}\n${chosenWords(chosen)}` : `Not estimable. ${fit.advice}`;

function chosenWords({ timeConstants, two, criterion }: ChosenTimeConstants): string {
  if (timeConstants === 1 || two === null) return criterion;
  return [
    criterion,
    `  fast ${formatSeconds(two.fastTauSeconds)} (share ${two.weight.toFixed(3)}), slow ${formatSeconds(two.slowTauSeconds)}, pick-up ${two.pickup.toFixed(4)}, sigma ${two.sigma.toFixed(4)}`,
  ].join("\n");
}

const specimenWords = (view: SpecimenFitView): string =>
  [
    `${view.label} (${view.specimen})`,
    ...view.groups.flatMap((group) => [
      "",
      `${group.words} ${group.shots.length} shots.`,
      fitWords(group.fit, group.chosen),
    ]),
    ...view.leftOut.map((one) => `left out: ${one.shot}, ${one.why}`),
  ].join("\n");

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
