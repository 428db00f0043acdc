import {
  type FittedTripModel,
  fitTripModel,
  type UnfittedTripModel,
} from "../core/thermal/fit-trip-model.ts";
import type { TripShot } from "../core/thermal/trip-log-likelihood.ts";
import { type ChosenTimeConstants, chooseTimeConstants } from "../core/thermal/two-time-constants.ts";
import { decimalNumber } from "../exchange/read-csv-table.ts";
import { InputError } from "./input-error.ts";
import { readTableFile } from "./read-table-file.ts";

/**
 * Fits the trip model, and a second time constant where the shots call for one, to a CSV file with the columns `multiple,seconds,kind`, and where needed `seconds_upper` and `preload`.
 *
 * @throws InputError naming the line and what is accepted
 */
export function fitShotsFile(
  path: string,
  options: { pickup?: number | undefined; level: number },
): (FittedTripModel | UnfittedTripModel) & ChosenTimeConstants {
  const { rows } = readTableFile(path, ["multiple", "seconds", "kind"], ["seconds_upper", "preload"]);
  const shots = rows.map(({ line, cells }): TripShot => {
    const number = (column: string): number => {
      const value = decimalNumber(cells[column] ?? "");
      if (Number.isNaN(value)) {
        throw new InputError(
          `${path}, line ${line}, ${column}: found "${cells[column] ?? ""}"; accepted is a number`,
        );
      }
      return value;
    };
    const { kind } = cells;
    if (kind !== "tripped" && kind !== "held" && kind !== "interval") {
      throw new InputError(`${path}, line ${line}, kind: found "${kind}"; accepted: tripped, held, interval`);
    }
    return {
      multiple: number("multiple"),
      seconds: number("seconds"),
      kind,
      ...(kind === "interval" ? { secondsUpper: number("seconds_upper") } : {}),
      ...((cells.preload ?? "") === "" ? {} : { preload: number("preload") }),
    };
  });
  if (shots.length === 0) throw new InputError(`${path}: holds no shot`);
  try {
    const fit = fitTripModel(shots, options);
    if (options.pickup === undefined) return { ...fit, ...chooseTimeConstants(shots, fit) };
    const criterion = "One time constant: with a given pick-up no second one is tried.";
    return { ...fit, timeConstants: 1, aiccOne: null, aiccTwo: null, two: null, criterion };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const at = /^shot (\d+): /.exec(error.message);
    const line = at === null ? null : rows[Number(at[1]) - 1]?.line;
    throw new InputError(
      line == null
        ? `${path}: ${error.message}`
        : `${path}, line ${line}: ${error.message.slice(at?.[0].length)}`,
    );
  }
}
