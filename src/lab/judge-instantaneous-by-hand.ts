import {
  type InstantaneousBase,
  type InstantaneousVerdict,
  instantaneousWindow,
  judgeInstantaneous,
} from "../core/limits/instantaneous.ts";
import type { InstantaneousRow } from "../core/limits/limit-set.ts";
import type { DecisionRule } from "../core/limits/verdict.ts";
import { InputError } from "./input-error.ts";
import type { LimitLibrary } from "./limit-library.ts";

/** The set that is used where none is named. */
export const defaultInstantaneousSet = "nema-ab-4-instantaneous";

/** The current of an instantaneous trip to judge: where it tripped, or how far it was raised without a trip. */
export interface HandInstantaneous {
  set: string;
  row: string;
  settingAmps?: number | undefined;
  lowEdgeAmps?: number | undefined;
  highEdgeAmps?: number | undefined;
  trippedAt?: number | undefined;
  raisedTo?: number | undefined;
  /** Expanded uncertainty of the current, amperes, and its coverage factor. */
  u?: number | undefined;
  k: number;
  rule: DecisionRule;
}

/** A verdict on the current of an instantaneous trip, with the row that it rests on. */
export type InstantaneousByHand = InstantaneousVerdict & { limitSet: string; row: InstantaneousRow };

/**
 * Judges the current of an instantaneous trip.
 *
 * @throws InputError where the request does not say one thing, or no row has that name; it names what there is
 */
export function judgeInstantaneousByHand(
  library: LimitLibrary,
  input: HandInstantaneous,
): InstantaneousByHand {
  const rows = library.get(input.set).instantaneous ?? [];
  const row = rows.find((one) => one.id === input.row);
  if (row === undefined) {
    const there = rows.map((one) => one.id).join(", ") || "none";
    throw new InputError(`${input.set} has no instantaneous row "${input.row}"; there are: ${there}`);
  }
  if ((input.trippedAt === undefined) === (input.raisedTo === undefined)) {
    throw new InputError("exactly one of --tripped-at and --raised-to (no trip) is needed");
  }
  const { u, rule } = input;
  if (rule.kind !== "simple" && u === undefined) {
    throw new InputError(`the rule ${rule.kind} needs the expanded uncertainty of the current: --u A`);
  }
  try {
    const judgement = judgeInstantaneous(
      {
        outcome: input.trippedAt === undefined ? "no trip" : "tripped",
        amps: input.trippedAt ?? input.raisedTo ?? 0,
        expanded: u ?? null,
        standard: u === undefined ? null : u / input.k,
      },
      instantaneousWindow(row, baseOf(input, row)),
      rule,
    );
    if (!judgement.ok) throw new InputError(judgement.detail);
    return { ...judgement.verdict, limitSet: input.set, row };
  } catch (error) {
    if (error instanceof RangeError) throw new InputError(error.message);
    throw error;
  }
}

function baseOf(input: HandInstantaneous, row: InstantaneousRow): InstantaneousBase {
  const { settingAmps, lowEdgeAmps, highEdgeAmps } = input;
  if (settingAmps !== undefined && lowEdgeAmps === undefined && highEdgeAmps === undefined)
    return { settingAmps };
  if (settingAmps === undefined && lowEdgeAmps !== undefined && highEdgeAmps !== undefined)
    return { lowEdgeAmps, highEdgeAmps };
  throw new InputError(
    `the tolerance of ${row.id} is taken from ${row.takenFrom}: give --setting, or --low-edge and --high-edge`,
  );
}
