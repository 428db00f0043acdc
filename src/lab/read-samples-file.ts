import { readSampleTable } from "../core/signal/read-sample-table.ts";
import type { Reading } from "../core/signal/reading.ts";
import { firstOrderThermal } from "../core/signal/sensitivity.ts";
import { decimalNumber } from "../exchange/read-csv-table.ts";
import { InputError } from "./input-error.ts";
import { uncalibratedBasis } from "./lab.ts";
import { readTableFile } from "./read-table-file.ts";

/** What is known beside the samples. Uncertainties are standard ones; left out, the program's working values stand. */
export interface SamplesContext {
  rated: number;
  target: number;
  uCurrentPercent?: number | undefined;
  uTimerSeconds?: number | undefined;
  /** Pick-up of the model that gives the sensitivity to current, times rating. */
  pickup?: number | undefined;
}

/**
 * Reads a shot from a CSV file with the columns `t_s,amps`.
 *
 * @throws InputError naming every line that cannot be used, or that no current flowed
 */
export function readSamplesFile(path: string, context: SamplesContext): Reading {
  const { rows } = readTableFile(path, ["t_s", "amps"]);
  const numbers = (column: string) => rows.map((row) => decimalNumber(row.cells[column] ?? ""));
  const working = uncalibratedBasis(context.uTimerSeconds ?? 0.001);
  const given = context.uCurrentPercent !== undefined;
  const read = readSampleTable(
    { t_s: numbers("t_s"), amps: numbers("amps"), lines: rows.map((row) => row.line) },
    {
      ratedAmps: context.rated,
      targetAmps: context.target,
      basis: given ? { ...working, currentPercent: context.uCurrentPercent ?? 0, currentK: 1 } : working,
      ambientCelsius: null,
      ambientRange: null,
      sensitivity: firstOrderThermal(context.pickup ?? working.pickup),
      regulationPercent: working.regulationPercent,
    },
  );
  if (!read.ok) {
    const problems = read.problems.map(({ line, column, found, accepted }) => ({
      field: `line ${line}, ${column}`,
      problem: `found ${found}; accepted: ${accepted}`,
    }));
    throw new InputError(
      `${path}: ${problems
        .map((one) => `${one.field}: ${one.problem}`)
        .slice(0, 5)
        .join("; ")}`,
      problems,
    );
  }
  if (read.reading.flags.includes("no-onset")) {
    throw new InputError(
      `${path}: no onset: the current never reached a tenth of the target of ${context.target} A`,
    );
  }
  return read.reading;
}
